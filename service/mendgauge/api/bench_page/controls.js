// The controls of the fields: one for each kind, with its label, its hint and what is wrong with it.

import { h } from "./preact.js";
import { LISTS, caseOf, rulebookOf, underRulebook, unreadable } from "./case.js";
import { ask } from "./asker.js";
import { unitOf } from "./quantities.js";
import { change, state } from "./state.js";
import { fieldAt, speak, t } from "./texts.js";

/** @typedef {import("./preact.js").ComponentChildren} Children */

/** Put a text in a field. @param {string} pointer @param {string} text */
export function enter(pointer, text) {
  const values = { ...state.entered.values, [pointer]: text };
  if (text === "") delete values[pointer];
  change({ entered: { ...state.entered, values }, sure: false });
  ask();
}

/** Say how many there are of a list; null: not known. @param {string} list @param {number | null} count */
export function enterCount(list, count) {
  change({ entered: { ...state.entered, counts: { ...state.entered.counts, [list]: count } }, sure: false });
  ask();
}

/** Take another rulebook, with its words and units. @param {string} rulebook */
export async function enterRulebook(rulebook) {
  change({ entered: underRulebook(state.entered, rulebook), sure: false });
  await speakAs(rulebook);
  ask(0);
}

/** Speak as the country of a rulebook does. @param {string} rulebook */
export async function speakAs(rulebook) {
  const book = state.books.find(({ id, reference }) => id === rulebook || reference === rulebook);
  await speak(book?.language ?? "en-GB");
  change({});
}

/** Return what is wrong with a field: with what is typed, or by the word of the service. @param {string} pointer */
function faultOf(pointer) {
  const typed = unreadable(state.entered)[pointer];
  if (typed) return t(typed, { example: exampleOf(pointer) });
  const detail = faults().find((fault) => fault.pointer === pointer || fault.pointer?.startsWith(`${pointer}/`))?.detail;
  return detail && detail.charAt(0).toUpperCase() + detail.slice(1);
}

/** Return what the service says is wrong, place by place. */
const faults = () => state.problem?.errors ?? [];

/** Return the faults that no field on the page shows. @param {string[]} shown */
export const otherFaults = (shown) =>
  faults().filter(({ pointer }) => !pointer || !shown.some((one) => pointer === one || pointer.startsWith(`${one}/`)));

/** @param {string} pointer */
function exampleOf(pointer) {
  const unit = unitOf(pointer, rulebookOf(state.entered));
  return unit?.sign === "in" ? "1/8 to 3/16" : "3.5 to 4.5";
}

/** A field of the case. @param {{pointer: string}} props */
export function Field({ pointer }) {
  const field = fieldAt(pointer);
  const text = state.entered.values[pointer] ?? "";
  if (pointer.endsWith("/complete")) return h(Complete, { pointer, field, text });
  if (field.kind === "yes_no") {
    const choices = { yes: t("yes"), no: t("no"), "": t("not_known") };
    return h(Radios, { pointer, field, choices, text });
  }
  if (field.kind === "choice") {
    const choices = { ...field.choices, "": t("not_known") };
    return Object.keys(choices).length > 5 ? h(Select, { pointer, field, choices, text }) : h(Radios, { pointer, field, choices, text });
  }
  return h(Typed, { pointer, field, text });
}

/** @typedef {{pointer: string, field: import("./texts.js").FormField, text: string}} Of */

/** What describes a field: its hint, its fault. @param {string} pointer @param {string | undefined} hint
 * @param {string | undefined} fault */
const describedBy = (pointer, hint, fault) =>
  [hint && `h${pointer}`, fault && `e${pointer}`].filter(Boolean).join(" ") || undefined;

/** @param {{pointer: string, fault: string | undefined}} props */
function Fault({ pointer, fault }) {
  return fault ? h("p", { class: "fault", id: `e${pointer}` }, h("span", { "aria-hidden": true }, "! "), fault) : null;
}

/** @param {Of} props */
function Complete({ pointer, field, text }) {
  return h(
    "label",
    { class: "tick field" },
    h("input", {
      type: "checkbox",
      id: `f${pointer}`,
      checked: text === "yes",
      onChange: (/** @type {any} */ event) => enter(pointer, event.currentTarget.checked ? "yes" : ""),
    }),
    h("span", null, field.asks),
  );
}

/** @param {Of & {choices: Record<string, string>}} props */
function Radios({ pointer, field, choices, text }) {
  const fault = faultOf(pointer);
  return h(
    "fieldset",
    { class: "field radios", "aria-describedby": describedBy(pointer, undefined, fault) },
    h("legend", null, field.asks),
    h(
      "div",
      { class: "choices" },
      Object.entries(choices).map(([word, label]) =>
        h(
          "label",
          { key: word, class: word === "" ? "unknown" : "" },
          h("input", {
            type: "radio",
            name: pointer,
            value: word,
            id: word === Object.keys(choices)[0] ? `f${pointer}` : undefined,
            checked: text === word,
            onChange: () => enter(pointer, word),
          }),
          h("span", null, label),
        ),
      ),
    ),
    h(Fault, { pointer, fault }),
  );
}

/** @param {Of & {choices: Record<string, string>}} props */
function Select({ pointer, field, choices, text }) {
  const fault = faultOf(pointer);
  const { "": unknown, ...known } = choices;
  return h(
    "div",
    { class: "field" },
    h("label", { for: `f${pointer}` }, field.asks),
    h(
      "select",
      {
        id: `f${pointer}`,
        value: text,
        "aria-invalid": fault ? "true" : undefined,
        "aria-describedby": describedBy(pointer, undefined, fault),
        onChange: (/** @type {any} */ event) => enter(pointer, event.currentTarget.value),
      },
      h("option", { value: "" }, unknown),
      Object.entries(known).map(([word, label]) => h("option", { key: word, value: word, selected: text === word }, label)),
    ),
    h(Fault, { pointer, fault }),
  );
}

/** @param {Of} props */
function Typed({ pointer, field, text }) {
  const fault = faultOf(pointer);
  const unit = unitOf(pointer, rulebookOf(state.entered));
  const number = field.kind === "measured" || field.kind === "number";
  const hints = [
    field.how,
    pointer.endsWith("across_mm") && t("side_hint"),
    field.kind === "measured" && pointer.endsWith("/diameter_mm") && t("range_hint", { example: exampleOf(pointer) }),
  ];
  const hint = hints.filter(Boolean).join(" ");
  return h(
    "div",
    { class: "field" },
    h("label", { for: `f${pointer}` }, field.asks),
    h(
      "div",
      { class: "typed" },
      h("input", {
        id: `f${pointer}`,
        type: "text",
        value: text,
        class: number ? "number" : "",
        inputmode: "text",
        autocomplete: "off",
        autocapitalize: pointer.endsWith("/marking") ? "characters" : "off",
        spellcheck: false,
        "aria-invalid": fault ? "true" : undefined,
        "aria-describedby": describedBy(pointer, hint, fault),
        onInput: (/** @type {any} */ event) => enter(pointer, event.currentTarget.value),
      }),
      unit ? h("span", { class: "sign" }, unit.sign) : null,
    ),
    hint ? h("p", { class: "hint", id: `h${pointer}` }, hint) : null,
    h(Fault, { pointer, fault }),
  );
}

const MOST_OF = { "/injuries": 6, "/earlier_repairs": 6, "/in_service/axle_mates": 3 };

/** How many there are of a list. @param {{list: string}} props */
export function Count({ list }) {
  const count = state.entered.counts[list] ?? null;
  const most = Math.max(MOST_OF[/** @type {keyof typeof MOST_OF} */ (list)], count ?? 0);
  const unknown = list === "/injuries" ? [] : [h("option", { value: "", selected: count === null }, t("not_known"))];
  return h(
    "div",
    { class: "field" },
    h("label", { for: `f${list}` }, fieldAt(list).asks),
    h(
      "select",
      {
        id: `f${list}`,
        onChange: (/** @type {any} */ event) => enterCount(list, event.currentTarget.value === "" ? null : Number(event.currentTarget.value)),
      },
      unknown,
      Array.from({ length: most + 1 }, (_, number) =>
        h("option", { key: number, value: String(number), selected: count === number }, number ? String(number) : t("none")),
      ),
    ),
    fieldAt(list).how ? h("p", { class: "hint" }, fieldAt(list).how) : null,
  );
}

/** The choice of the rulebook, by its country. */
export function Rulebooks() {
  const chosen = rulebookOf(state.entered);
  const countries = state.books
    .filter((book, place, all) => all.findIndex(({ id }) => id === book.id) === place)
    .sort((one, other) => one.jurisdiction.localeCompare(other.jurisdiction));
  const pinned = chosen.includes("@") ? [{ id: chosen, jurisdiction: chosen }] : [];
  const fault = faultOf("/rulebook");
  return h(
    "div",
    { class: "field" },
    h("label", { for: "f/rulebook" }, t("rulebook")),
    h(
      "select",
      { id: "f/rulebook", "aria-describedby": describedBy("/rulebook", undefined, fault), onChange: (/** @type {any} */ event) => void enterRulebook(event.currentTarget.value) },
      [...countries, ...pinned].map(({ id, jurisdiction }) => h("option", { key: id, value: id, selected: id === chosen }, jurisdiction)),
    ),
    h(Fault, { pointer: "/rulebook", fault }),
  );
}

/** Return the pointers of what is entered and known, those of lists that are not there left out. */
export function known() {
  return Object.keys(state.entered.values).filter((pointer) => {
    const list = LISTS.find((one) => pointer.startsWith(`${one}/`));
    return !list || Number(pointer.slice(list.length + 1).split("/")[0]) < (state.entered.counts[list] ?? 0);
  });
}

/** Return what stands in a field, in words. @param {string} pointer */
export function inWords(pointer) {
  const text = state.entered.values[pointer] ?? "";
  const field = fieldAt(pointer);
  if (pointer === "/rulebook") return state.books.find(({ id }) => id === text)?.jurisdiction ?? text;
  if (field.kind === "yes_no") return text === "yes" ? t("yes") : t("no");
  if (field.kind === "choice") return field.choices?.[text] ?? text;
  const unit = unitOf(pointer, rulebookOf(state.entered));
  return unit && /\d$/.test(text) ? `${text} ${unit.sign}` : text;
}

/** Return the case as it is entered. */
export const currentCase = () => caseOf(state.entered);
