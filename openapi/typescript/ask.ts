// Asks a service about one tyre, typed by what openapi-typescript makes of the document.
import type { components } from "./mendgauge.js";

type TyreCase = components["schemas"]["TyreCase"];
type Problem = components["schemas"]["Problem"];
type Repairability = components["schemas"]["Repairability"];

export const example: TyreCase = {
  rulebook: "gb",
  vehicle: { kind: "car" },
  tyre: { marking: "205/55R16 91V", tread_depth_mm: 5 },
  injuries: [{ region: "tread", depth: "through", across_mm: 20, diameter_mm: { low: 3.5, high: 4.5 } }],
};

export async function checkRepairability(service: string, tyreCase: TyreCase): Promise<Repairability> {
  const response = await fetch(new URL("/v1/repairability", service), {
    method: "POST",
    headers: { "Content-Type": "application/json" },
    body: JSON.stringify(tyreCase),
  });
  if (!response.ok) {
    const problem = (await response.json()) as Problem;
    const places = problem.errors?.map((fault) => `${fault.pointer ?? fault.parameter}: ${fault.detail}`);
    throw new Error([problem.title, ...(places ?? [])].join("\n"));
  }
  return (await response.json()) as Repairability;
}

export function inWords(answer: Repairability): string {
  // Words of an answer are open: one that is new to this program must not stop it.
  const doubts = answer.to_establish.map((missing) => missing.asks);
  return [`${answer.verdict}: ${answer.next_step}`, ...doubts].join("\n");
}
