// At the bench: every field in the order of an inspection, the drawing beside them, the answer beside that.

import { h } from "./preact.js";
import { Cautions, Limits, OtherFaults, Questions, Reasons, RestsOn, Steps, Trims, Units, UntilThen } from "./answer.js";
import { Count, Field, Rulebooks, otherFaults } from "./controls.js";
import { BriefQuote } from "./counter.js";
import { Papers } from "./papers.js";
import { Pictures } from "./pictures.js";
import { state } from "./state.js";
import { allPatterns, closesSection, t, words } from "./texts.js";

/**
 * A section of the form. `fields` are pointers; with a `list` also those of each of its entries, by name.
 * @typedef {object} Section
 * @property {string} id
 * @property {string[]} [fields]
 * @property {string} [list]
 * @property {"injury" | "earlier_repair" | "mate"} [entry] the text that numbers an entry
 * @property {string[]} [each]
 * @property {boolean} [folded] seldom needed, and folded until it is
 */

/** @param {string} start @returns {string[]} what is below a place, what closes it last */
function below(start) {
  const found = allPatterns().filter((one) => one.startsWith(start) && !one.includes("*"));
  return [...found.filter((one) => !closesSection(one)), ...found.filter(closesSection)];
}

/** Return the sections in the order of an inspection. @returns {Section[]} */
export const sections = () => [
  {
    id: "tyre",
    fields: ["/rulebook", "/tyre/marking", "/vehicle/kind", "/position/axle", "/position/steered", "/position/fitment", "/reference"],
  },
  { id: "driver", fields: below("/history/") },
  { id: "sidewall", fields: ["/tyre/date_code", "/tyre/tread_depth_mm", "/tyre/tread_width_mm", "/tyre/body_ply"] },
  { id: "special", fields: below("/tyre/traits/") },
  {
    id: "injury",
    list: "/injuries",
    entry: "injury",
    each: [
      "region",
      "object_in_place",
      "object",
      "plugged_from_outside",
      "measured_from",
      "across_mm",
      "around_mm",
      "emerges_in",
      "depth",
      "diameter_mm",
      "stage",
      "lean_deg",
      "lean_toward_deg",
      "other_side_across_mm",
    ],
  },
  { id: "inside", fields: ["/tyre/crown_thickness_mm", ...below("/inspection/")] },
  {
    id: "earlier",
    list: "/earlier_repairs",
    entry: "earlier_repair",
    each: ["method", "proper", "measured_from", "across_mm", "around_mm", "patch_mm"],
  },
  { id: "maker", fields: below("/tyre/maker_policy/"), folded: true },
  {
    id: "use",
    fields: [
      "/vehicle/gross_mass_kg",
      "/vehicle/max_speed_kmh",
      "/position/axle_load_kg",
      "/tyre/max_load_kg",
      "/tyre/new_tread_depth_mm",
      ...below("/in_service/").filter((one) => one !== "/in_service/axle_mates"),
    ],
    list: "/in_service/axle_mates",
    entry: "mate",
    each: ["place", "marking", "tread_depth_mm", "overall_diameter_mm"],
    folded: true,
  },
  { id: "climate", fields: below("/bench/"), folded: true },
  {
    id: "instruments",
    fields: ["/measuring/ruler_mm", "/measuring/calliper_mm", "/measuring/depth_gauge_mm", "/measuring/probe_deg"],
    folded: true,
  },
];

/** Return the pointers of a section's fields, with those of each entry of its list. @param {Section} section */
export function pointersOf({ fields = [], list, each = [] }) {
  const count = list ? state.entered.counts[list] ?? 0 : 0;
  const entries = Array.from({ length: count }, (_, index) => each.map((name) => `${list}/${index}/${name}`));
  return [...fields, ...entries.flat()];
}

/** Lead to the field of a question, and unfold its section. @param {string} pointer */
function go(pointer) {
  const list = sections().find((section) => section.list && pointer.startsWith(section.list));
  const missing = document.getElementById(`f${pointer}`) ?? (list && document.getElementById(`f${list.list}`));
  const details = missing?.closest("details");
  if (details) details.open = true;
  missing?.focus();
  missing?.closest(".field")?.scrollIntoView({ block: "center" });
}

/** The way in at the bench. */
export function Bench() {
  const shown = sections().flatMap(pointersOf);
  return h(
    "div",
    { class: "bench" },
    h("div", { class: "form" }, sections().map((section) => h(Fields, { key: section.id, section }))),
    h(
      "div",
      { class: "seen", id: "answer", tabindex: 0, role: "region", "aria-label": t("answer") },
      h(Pictures, null),
      h(
        "div",
        { class: "results", tabindex: 0, role: "region", "aria-label": t("findings") },
        h(OtherFaults, { faults: otherFaults(shown) }),
        h(Reasons, null),
        h(Questions, { go }),
        h(Units, null),
        h(Trims, null),
        h(Limits, null),
        h(Steps, null),
        h(BriefQuote, null),
        h(Papers, { withGauge: true }),
        h(UntilThen, null),
        h(Cautions, null),
        h(RestsOn, null),
      ),
    ),
  );
}

/** @param {{section: Section}} props */
function Fields({ section }) {
  const { id, fields = [], list, entry = "injury", each = [], folded } = section;
  const title = words().sections[id] ?? id;
  const count = list ? state.entered.counts[list] ?? 0 : 0;
  const content = [
    fields.map((pointer) => (pointer === "/rulebook" ? h(Rulebooks, { key: pointer }) : h(Field, { key: pointer, pointer }))),
    list ? h(Count, { key: list, list }) : null,
    Array.from({ length: count }, (_, index) =>
      h(
        "section",
        { key: `${list}/${index}`, class: "entry" },
        count > 1 || list !== "/injuries" ? h("h3", null, t(entry, { number: index + 1 })) : null,
        each.map((name) => h(Field, { key: name, pointer: `${list}/${index}/${name}` })),
      ),
    ),
  ];
  return folded
    ? h("details", { class: "group" }, h("summary", null, h("h2", null, title)), content)
    : h("section", { class: "group" }, h("h2", null, title), content);
}
