// What the page knows, and who is to be drawn anew when it changes. Nothing of it is kept but in the address.

import { nothingEntered } from "./case.js";

/** @typedef {import("./api_types.js").components["schemas"]} Schemas */
/** @typedef {"phone" | "bench" | "counter"} Way */
/** @typedef {{view: "crown_section" | "liner_plan", url: string, title: string, description: string}} Picture */
/**
 * @typedef {object} State
 * @property {Way} way
 * @property {import("./case.js").Entered} entered
 * @property {Schemas["RulebookSummary"][]} books
 * @property {Schemas["Repairability"] | null} check
 * @property {Schemas["RepairPlan"] | null} plan
 * @property {Schemas["WorkPlan"] | null} work
 * @property {Schemas["RepairUnits"] | null} units
 * @property {Schemas["Quote"] | null} quote
 * @property {Schemas["Problem"] | null} unpriced why there is no quote
 * @property {Picture[]} pictures
 * @property {Schemas["Problem"] | null} problem what the service says is wrong with the case
 * @property {boolean} working
 * @property {{busy: boolean, seconds: number} | null} away
 * @property {{refused: boolean} | null} key a key is asked for
 * @property {string} notice what was done last, for all to read
 * @property {string[]} asked what a driver was asked already, in order
 * @property {Schemas["ToEstablish"] | null} answered the question just answered, until what comes of that is known
 * @property {boolean} sure whether starting again was asked for once
 */

/** @type {State} */
export const state = {
  way: "bench",
  entered: nothingEntered(),
  books: [],
  check: null,
  plan: null,
  work: null,
  units: null,
  quote: null,
  unpriced: null,
  pictures: [],
  problem: null,
  working: false,
  away: null,
  key: null,
  notice: "",
  asked: [],
  answered: null,
  sure: false,
};

/** What every answer is shown by; empty while there is none. */
export const NO_ANSWER = { check: null, plan: null, work: null, units: null, quote: null, unpriced: null, answered: null };

/** @type {() => void} */
let draw = () => {};
let due = false;

/** Say who draws the page. @param {() => void} drawer */
export const drawWith = (drawer) => {
  draw = drawer;
};

/** Change what the page knows, and draw it anew soon. @param {Partial<State>} part */
export function change(part) {
  Object.assign(state, part);
  if (due) return;
  due = true;
  queueMicrotask(() => {
    due = false;
    draw();
  });
}
