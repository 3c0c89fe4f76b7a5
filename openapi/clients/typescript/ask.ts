// Checks a tyre, chooses its unit, prices the repair, reads a refusal, and an answer of a later release.
import { Configuration, DecisionsApi, ProblemFromJSON, ReferenceApi, ResponseError, type TyreCase } from "./client/index.js";

const tyreCase = (marking: string): TyreCase => ({
  rulebook: "gb",
  vehicle: { kind: "car", grossMassKg: 1900 },
  position: { axle: "rear" },
  tyre: {
    marking,
    dateCode: "2323",
    treadDepthMm: 5,
    traits: { complete: true },
    makerPolicy: { repair: "permitted" },
  },
  injuries: [
    {
      region: "tread",
      depth: "through",
      acrossMm: { low: 18, high: 22 },
      aroundMm: 640,
      measuredFrom: "outside",
      diameterMm: 4,
      stage: "found",
      leanDeg: 5,
      leanTowardDeg: 0,
      emergesIn: "groove",
    },
  ],
  earlierRepairs: [],
  inspection: { complete: true },
  history: { complete: true, pressureFoundPercent: 90 },
});

const at = (basePath: string | undefined) => new Configuration({ basePath: basePath! });
const service = at(process.env.MENDGAUGE_URL);
const decisions = new DecisionsApi(service);
const known = tyreCase("205/55R16 91V");

const check = await decisions.checkRepairability({ tyreCase: known });
console.log(`check: ${check.verdict}, ${check.nextStep}`);

const units = await decisions.chooseRepairUnits({ tyreCase: known });
const pieces = units.injuries[0]?.choices?.[0]?.chosen?.pieces ?? [];
console.log(`unit: ${pieces.map((piece) => piece.code).join(" + ")}`);

const codes = await new ReferenceApi(service).listGenericUnits({ rulebook: "gb", tyreClass: "car" });
known.priceBook = {
  currency: "GBP",
  labour: { perHour: "54.00" },
  units: Object.fromEntries(codes.units.map((unit) => [unit.code, "3.40"])),
  consumables: Object.fromEntries(codes.consumables.map((used) => [used.code, "0.12"])),
  taxes: [{ name: "VAT", percent: "20" }],
};
const quote = await decisions.quoteRepair({ tyreCase: known });
console.log(`price: ${quote.totals.gross} ${quote.currency}`);

try {
  await decisions.checkRepairability({ tyreCase: tyreCase("205/55R61") });
} catch (refused) {
  if (!(refused instanceof ResponseError)) throw refused;
  const problem = ProblemFromJSON(await refused.response.json());
  console.log(`refused: ${problem.status} ${problem.title}, ${problem.errors?.[0]?.pointer}`);
}

const later = new DecisionsApi(at(process.env.MENDGAUGE_LATER_URL));
const answer = await later.checkRepairability({ tyreCase: tyreCase("205/55R16 91V") });
console.log(`later: ${answer.verdict}, ${answer.nextStep}`);
