// The case: made of what stands in the fields, taken apart into them, and carried in a file or in the address.

import { fieldAt, patternOf } from "./texts.js";
import { read, write } from "./quantities.js";

/** @typedef {import("./api_types.js").components["schemas"]["TyreCase"]} TyreCase */
/** @typedef {import("./quantities.js").Value} Value */
/**
 * What is entered: texts by the pointer of their field, how many there are of each list (null: not known), and what the
 * case has beyond the fields of the page, such as a shop's stock.
 * @typedef {object} Entered
 * @property {Record<string, string>} values
 * @property {Record<string, number | null>} counts
 * @property {Record<string, any>} rest
 */

/** The lists of a case. */
export const LISTS = ["/injuries", "/earlier_repairs", "/in_service/axle_mates"];
/** What the page asks for that is no fact of the tyre. */
export const SETTINGS = ["/rulebook", "/reference", "/measuring/ruler_mm", "/measuring/calliper_mm", "/measuring/depth_gauge_mm", "/measuring/probe_deg"];

/** @returns {Entered} */
export const nothingEntered = () => ({
  values: {},
  counts: { "/injuries": 1, "/earlier_repairs": null, "/in_service/axle_mates": null },
  rest: {},
});

/** Return the rulebook that is entered. @param {Entered} entered */
export const rulebookOf = (entered) => entered.values["/rulebook"] ?? "gb";

/** Return the number in a list's place of a pointer, if it is inside one. @param {string} pointer */
function placeIn(pointer) {
  const list = LISTS.find((one) => pointer.startsWith(`${one}/`));
  return list ? { list, index: Number(pointer.slice(list.length + 1).split("/")[0]) } : undefined;
}

/** Return what a field's text says to the API; nothing where it says nothing, or cannot be read.
 * @param {string} pointer @param {string} text @param {string} rulebook @returns {unknown} */
function valueOf(pointer, text, rulebook) {
  const { kind } = fieldAt(pointer);
  if (kind === "yes_no") return text === "yes" ? true : text === "no" ? false : undefined;
  if (kind === "measured") return read(text, pointer, rulebook).value;
  if (kind === "number") {
    const { value } = read(text, pointer, rulebook);
    return typeof value === "number" ? value : undefined;
  }
  return text.trim() || undefined;
}

/** Return what is wrong with what is typed, by pointer: it says nothing to the API. @param {Entered} entered
 * @returns {Record<string, "cannot_read" | "upside_down">} */
export function unreadable(entered) {
  /** @type {Record<string, "cannot_read" | "upside_down">} */
  const found = {};
  for (const [pointer, text] of Object.entries(entered.values)) {
    const { kind } = fieldAt(pointer);
    if (kind !== "measured" && kind !== "number") continue;
    const { value, fault } = read(text, pointer, rulebookOf(entered));
    if (fault) found[pointer] = fault;
    else if (kind === "number" && typeof value === "object") found[pointer] = "cannot_read";
  }
  return found;
}

/** Return the case. @param {Entered} entered @returns {TyreCase} */
export function caseOf(entered) {
  const made = structuredClone(entered.rest);
  for (const list of LISTS) {
    const count = entered.counts[list];
    if (count === null || count === undefined) continue;
    const blank = Object.keys(entered.values).every((pointer) => !pointer.startsWith(`${list}/`));
    if (list === "/injuries" && count === 1 && blank) continue; // left out, it says the same: one, and nothing known
    put(made, list, Array.from({ length: count }, () => ({})));
  }
  for (const [pointer, text] of Object.entries(entered.values)) {
    const place = placeIn(pointer);
    if (place && place.index >= (entered.counts[place.list] ?? 0)) continue;
    const value = valueOf(pointer, text, rulebookOf(entered));
    if (value !== undefined && !(pointer.endsWith("/complete") && value === false)) put(made, pointer, value);
  }
  made.rulebook = rulebookOf(entered);
  made.tyre ??= {};
  made.tyre.marking ??= "";
  return /** @type {TyreCase} */ (made);
}

/** @param {any} into @param {string} pointer @param {unknown} value */
function put(into, pointer, value) {
  const names = pointer.slice(1).split("/");
  const last = /** @type {string} */ (names.pop());
  let at = into;
  for (const name of names) at = at[name] ??= {};
  at[last] = value;
}

/** Return a case taken apart, or nothing where it is none. @param {unknown} given @returns {Entered | undefined} */
export function entered(given) {
  if (!isObject(given) || typeof given.rulebook !== "string" || typeof given.tyre?.marking !== "string") return undefined;
  const found = nothingEntered();
  const rulebook = given.rulebook;
  found.rest = takeApart(given, "", found, rulebook);
  return found;
}

/** @param {unknown} value @returns {value is Record<string, any>} */
const isObject = (value) => typeof value === "object" && value !== null && !Array.isArray(value);

/** Take what the page has fields for, and return the rest. @param {Record<string, any>} section @param {string} above
 * @param {Entered} found @param {string} rulebook */
function takeApart(section, above, found, rulebook) {
  /** @type {Record<string, any>} */
  const rest = {};
  for (const [name, value] of Object.entries(section)) {
    const pointer = `${above}/${name}`;
    if (value === null) continue;
    if (LISTS.includes(pointer) && Array.isArray(value) && value.every(isObject)) {
      found.counts[pointer] = value.length;
      value.forEach((one, index) => takeApart(one, `${pointer}/${index}`, found, rulebook));
    } else if (isField(pointer)) {
      found.values[pointer] = textOf(value, pointer, rulebook);
    } else if (isObject(value)) {
      const left = takeApart(value, pointer, found, rulebook);
      if (Object.keys(left).length || !Object.keys(value).length) rest[name] = left;
    } else {
      rest[name] = value;
    }
  }
  return rest;
}

/** @param {string} pointer */
function isField(pointer) {
  return SETTINGS.includes(pointer) || fieldAt(pointer).asks !== patternOf(pointer);
}

/** @param {any} value @param {string} pointer @param {string} rulebook */
function textOf(value, pointer, rulebook) {
  if (typeof value === "boolean") return value ? "yes" : "no";
  if (typeof value === "number" || isObject(value)) return write(/** @type {Value} */ (value), pointer, rulebook);
  return String(value);
}

/** Return what is entered with its quantities in the units of another rulebook. @param {Entered} before
 * @param {string} rulebook @returns {Entered} */
export function underRulebook(before, rulebook) {
  const old = rulebookOf(before);
  const values = Object.fromEntries(
    Object.entries(before.values).map(([pointer, text]) => {
      const { kind } = fieldAt(pointer);
      if (kind !== "measured" && kind !== "number") return [pointer, text];
      const { value } = read(text, pointer, old);
      return [pointer, value === undefined ? text : write(value, pointer, rulebook)];
    }),
  );
  return { ...before, values: { ...values, "/rulebook": rulebook } };
}

/** Return a case packed for the address: JSON, deflated, in letters that a link keeps. @param {unknown} value */
export async function packed(value) {
  const stream = new Blob([JSON.stringify(value)]).stream().pipeThrough(new CompressionStream("deflate-raw"));
  const bytes = new Uint8Array(await new Response(stream).arrayBuffer());
  const letters = btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join(""));
  return letters.replaceAll("+", "-").replaceAll("/", "_").replace(/=+$/, "");
}

const UNPACKED_MAX = 524288;

/** Return what was packed. Throw where it is damaged, or larger than any case. @param {string} letters */
export async function unpacked(letters) {
  const binary = atob(letters.replaceAll("-", "+").replaceAll("_", "/"));
  const bytes = Uint8Array.from(binary, (letter) => letter.charCodeAt(0));
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("deflate-raw"));
  const reader = stream.getReader();
  const parts = [];
  let size = 0;
  for (;;) {
    const { done, value } = await reader.read();
    if (done) break;
    size += value.byteLength;
    if (size > UNPACKED_MAX) throw new Error("larger than a case may be");
    parts.push(value);
  }
  return JSON.parse(await new Blob(parts).text());
}
