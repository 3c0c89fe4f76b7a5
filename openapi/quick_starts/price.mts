// Prices a repair: which codes need a price, then the bill.
import { readFileSync } from "node:fs";
import type { components } from "./mendgauge.js";

type TyreCase = components["schemas"]["TyreCase"];
type GenericUnits = components["schemas"]["GenericUnits"];
type Quote = components["schemas"]["Quote"];

const service = process.env.MENDGAUGE_URL ?? "http://127.0.0.1:8340";

async function answered<Answer>(path: string, body?: TyreCase): Promise<Answer> {
  const post = { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(body) };
  const response = await fetch(new URL(path, service), body && post);
  if (!response.ok) throw new Error(await response.text());
  return (await response.json()) as Answer;
}

const tyreCase: TyreCase = JSON.parse(readFileSync("case.json", "utf-8"));
const codes = await answered<GenericUnits>(`/v1/generic-units?rulebook=${tyreCase.rulebook}&tyre_class=car`);
tyreCase.price_book = {
  currency: "GBP",
  labour: { per_hour: "54.00" },
  units: Object.fromEntries(codes.units.map((unit) => [unit.code, "3.40"])),
  consumables: Object.fromEntries(codes.consumables.map((used) => [used.code, "0.12"])),
  taxes: [{ name: "VAT", percent: "20" }],
};
const quote = await answered<Quote>("/v1/quotes", tyreCase);

console.log(quote.verdict, "-", quote.says);
for (const line of quote.lines) console.log(line.gross.padStart(8), "", line.title);
console.log(quote.totals.gross.padStart(8), "", quote.currency, "to pay");
