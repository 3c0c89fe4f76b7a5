// What is typed as a number, in the units of the rulebook's country, and what the API takes: metric, a number or a range.

/** @typedef {number | {low: number, high: number}} Value */
/**
 * A unit: its sign, and how it is read and written.
 * @typedef {object} Unit
 * @property {string} sign
 * @property {(shown: number) => number} toMetric
 * @property {(metric: number) => number} fromMetric
 * @property {number} digits after the point, at most
 */

/** @param {string} sign @param {number} factor @param {number} digits @returns {Unit} */
const scaled = (sign, factor, digits) => ({
  sign,
  toMetric: (shown) => shown * factor,
  fromMetric: (metric) => metric / factor,
  digits,
});

const INCH = 25.4;
const MILE = 1.609344;
const POUND = 0.45359237;
const THIRTY_SECONDS = scaled("/32 in", INCH / 32, 1);
const INCHES = scaled("in", INCH, 4);
/** @type {Record<string, Unit>} */
const METRIC = {
  mm: scaled("mm", 1, 3),
  deg: scaled("°", 1, 2),
  kmh: scaled("km/h", 1, 1),
  km: scaled("km", 1, 2),
  kg: scaled("kg", 1, 1),
  percent: scaled("%", 1, 1),
  c: scaled("°C", 1, 1),
};
/** @type {Record<string, Unit>} */
const ON_THE_ROAD = { kmh: scaled("mph", MILE, 1), km: scaled("miles", MILE, 2) };
/** @type {Record<string, Unit>} */
const AMERICAN = {
  ...ON_THE_ROAD,
  mm: INCHES,
  kg: scaled("lb", POUND, 1),
  c: { sign: "°F", toMetric: (f) => ((f - 32) * 5) / 9, fromMetric: (c) => (c * 9) / 5 + 32, digits: 1 },
};

/** Units that may be written behind a number whatever the field shows, by the ending of the field's name.
 * @type {Record<string, Record<string, Unit>>} */
const WRITTEN = {
  mm: { mm: scaled("mm", 1, 3), cm: scaled("cm", 10, 3), in: INCHES, inch: INCHES, inches: INCHES, '"': INCHES },
  kmh: { "km/h": scaled("km/h", 1, 1), kmh: scaled("km/h", 1, 1), mph: scaled("mph", MILE, 1) },
  km: { km: scaled("km", 1, 2), miles: scaled("mi", MILE, 2), mile: scaled("mi", MILE, 2), mi: scaled("mi", MILE, 2) },
  kg: { kg: scaled("kg", 1, 1), t: scaled("t", 1000, 3), lb: scaled("lb", POUND, 1), lbs: scaled("lb", POUND, 1) },
  c: { "°c": scaled("°C", 1, 1), c: scaled("°C", 1, 1), f: /** @type {Unit} */ (AMERICAN.c), "°f": /** @type {Unit} */ (AMERICAN.c) },
  percent: { "%": scaled("%", 1, 1) },
  deg: { "°": scaled("°", 1, 2), deg: scaled("°", 1, 2), degrees: scaled("°", 1, 2) },
};

/** @param {string} pointer */
const ending = (pointer) => /_(mm|deg|kmh|km|kg|percent|c)$/.exec(pointer)?.[1];

/** Return the unit that a field is shown in, if it has one. @param {string} pointer @param {string} rulebook
 * @returns {Unit | undefined} */
export function unitOf(pointer, rulebook) {
  const end = ending(pointer);
  if (!end) return undefined;
  const country = rulebook.slice(0, 2);
  if (country === "us") return /tread_depth_mm$|depth_gauge_mm$/.test(pointer) ? THIRTY_SECONDS : AMERICAN[end] ?? METRIC[end];
  return (country === "gb" ? ON_THE_ROAD[end] : undefined) ?? METRIC[end];
}

const NUMBER = String.raw`[-+−]?(?:\d+[ ]+\d+\/\d+|\d+\/\d+|\d+(?:[.,]\d+)?|[.,]\d+)`;
const UNIT = String.raw`\s*("|%|°\s?[cf]?|[a-z]+(?:\/h)?)?`;
const ONE = new RegExp(`^(${NUMBER})${UNIT}$`, "i");
const TWO = new RegExp(`^(${NUMBER})${UNIT}\\s*(?:to|–|—|\\.\\.|-)\\s*(${NUMBER})${UNIT}$`, "i");

/**
 * Return what was typed as the API takes it, or what is wrong with it; nothing where nothing was typed.
 * @param {string} text @param {string} pointer @param {string} rulebook
 * @returns {{value?: Value, fault?: "cannot_read" | "upside_down"}}
 */
export function read(text, pointer, rulebook) {
  const typed = text.trim();
  if (!typed) return {};
  const one = ONE.exec(typed);
  if (one) {
    const value = inMetric(/** @type {string} */ (one[1]), one[2], pointer, rulebook);
    return value === undefined ? { fault: "cannot_read" } : { value };
  }
  const two = TWO.exec(typed);
  if (!two) return { fault: "cannot_read" };
  const low = inMetric(/** @type {string} */ (two[1]), two[2] ?? two[4], pointer, rulebook);
  const high = inMetric(/** @type {string} */ (two[3]), two[4] ?? two[2], pointer, rulebook);
  if (low === undefined || high === undefined) return { fault: "cannot_read" };
  return low > high ? { fault: "upside_down" } : { value: { low, high } };
}

/** @param {string} digits @param {string | undefined} sign @param {string} pointer @param {string} rulebook */
function inMetric(digits, sign, pointer, rulebook) {
  const end = ending(pointer);
  const shown = unitOf(pointer, rulebook);
  let unit = shown;
  if (sign) {
    unit = end ? WRITTEN[end]?.[sign.toLowerCase().replace(/\s/g, "")] : undefined;
    if (!unit) return undefined;
  } else if (shown === THIRTY_SECONDS && digits.includes("/")) {
    unit = INCHES;
  }
  const number = numberOf(digits);
  const metric = unit ? unit.toMetric(number) : number;
  return Number.isFinite(metric) ? Math.round(metric * 1e4) / 1e4 : undefined;
}

/** @param {string} digits a decimal, a fraction, or a whole number and a fraction */
function numberOf(digits) {
  const sign = /^[-−]/.test(digits) ? -1 : 1;
  const bare = digits.replace(/^[-+−]/, "").replace(",", ".");
  const parts = bare.split(/\s+/).map((part) => {
    const [over, under] = part.split("/").map(Number);
    return under === undefined ? Number(over) : Number(over) / under;
  });
  return sign * parts.reduce((sum, part) => sum + part, 0);
}

/** Return a value of the API as it is typed in a field. @param {Value} value @param {string} pointer
 * @param {string} rulebook */
export function write(value, pointer, rulebook) {
  const unit = unitOf(pointer, rulebook);
  /** @param {number} metric */
  const one = (metric) => (unit ? String(Number(unit.fromMetric(metric).toFixed(unit.digits))) : String(metric));
  return typeof value === "number" ? one(value) : `${one(value.low)} to ${one(value.high)}`;
}
