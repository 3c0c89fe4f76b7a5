// At the counter: what the repair costs by the shop's prices, and the papers.

import { h } from "./preact.js";
import { Cautions, Limits, OtherFaults, Part, Questions, Reasons, RestsOn, UntilThen } from "./answer.js";
import { ask } from "./asker.js";
import { Field, Rulebooks, otherFaults } from "./controls.js";
import { change, state } from "./state.js";
import { t, words } from "./texts.js";
import { Papers, chooseFile, saveFile } from "./papers.js";

/** @typedef {import("./state.js").Schemas} Schemas */

const HERE = ["/rulebook", "/tyre/marking", "/vehicle/kind", "/reference"];
/** Where each of the shop's prices stands in the case. @type {[string, string[]][]} */
const PRICES = [
  ["currency", ["price_book", "currency"]],
  ["per_hour", ["price_book", "labour", "per_hour"]],
  ["inspection_price", ["price_book", "inspection"]],
  ["tax_name", ["price_book", "taxes", "0", "name"]],
  ["tax_percent", ["price_book", "taxes", "0", "percent"]],
  ["new_tyre_price", ["replacement", "price"]],
];
const COVERED = ["unit", "consumable"];

/** @param {any} from @param {string[]} path @returns {any} */
const at = (from, path) => path.reduce((value, name) => value?.[name], from);

/** Put a value into what the case has beyond the page's fields; an empty one is taken out, and what it leaves empty.
 * @param {string[]} path @param {unknown} value */
function putRest(path, value) {
  const rest = structuredClone(state.entered.rest);
  set(rest, path, value);
  change({ entered: { ...state.entered, rest } });
  ask();
}

/** @param {any} into @param {string[]} path @param {unknown} value */
function set(into, [name, ...rest], value) {
  if (name === undefined) return;
  if (rest.length) {
    into[name] ??= rest[0] === "0" ? [] : {};
    set(into[name], rest, value);
    if (value === "" && Object.keys(into[name]).length === 0) remove(into, name);
  } else if (value === "") {
    remove(into, name);
  } else {
    into[name] = value;
  }
}

/** @param {any} from @param {string} name */
const remove = (from, name) => (Array.isArray(from) ? from.splice(Number(name), 1) : delete from[name]);

/** The way in at the counter. */
export function Counter() {
  return h(
    "div",
    { class: "counter" },
    h(
      "div",
      { class: "form" },
      h("section", { class: "group" }, h("h2", null, words().sections.tyre), h(Rulebooks, null), HERE.slice(1).map((pointer) => h(Field, { key: pointer, pointer }))),
      h(Prices, null),
    ),
    h(
      "div",
      { class: "results", id: "answer", tabindex: -1 },
      h(OtherFaults, { faults: otherFaults(HERE) }),
      h(Priced, null),
      h(Papers, { withGauge: true }),
      h(Reasons, null),
      h(Questions, null),
      h(Limits, null),
      h(UntilThen, null),
      h(Cautions, null),
      h(RestsOn, null),
    ),
  );
}

function Prices() {
  const { rest } = state.entered;
  const covers = at(rest, ["price_book", "labour", "covers"]) ?? [];
  const whole = COVERED.every((one) => covers.includes(one));
  return h(
    "section",
    { class: "group" },
    h("h2", null, t("price_book")),
    PRICES.map(([key, path]) =>
      h(
        "div",
        { key, class: "field" },
        h("label", { for: `p-${key}` }, t(key)),
        h("input", {
          id: `p-${key}`,
          type: "text",
          autocomplete: "off",
          value: at(rest, path) ?? "",
          inputmode: ["currency", "tax_name"].includes(key) ? "text" : "decimal",
          onInput: (/** @type {any} */ event) => {
            const typed = event.currentTarget.value.trim();
            putRest(path, key === "currency" ? typed.toUpperCase() : key === "tax_name" ? event.currentTarget.value : typed.replace(",", "."));
          },
        }),
      ),
    ),
    h(Tick, { label: t("tax_in_prices"), on: Boolean(at(rest, ["price_book", "prices_include_tax"])), put: (on) => putRest(["price_book", "prices_include_tax"], on || "") }),
    h(Tick, { label: t("flat"), on: whole, put: (on) => putRest(["price_book", "labour", "covers"], on ? COVERED : "") }),
    h(
      "div",
      { class: "tools" },
      h("button", { type: "button", onClick: () => chooseFile(takePrices) }, t("open_prices")),
      h("button", { type: "button", disabled: !rest.price_book, onClick: () => saveFile("price-book.json", rest.price_book) }, t("save_prices")),
    ),
  );
}

/** @param {unknown} given @param {string} name @returns {string} what to say of the file */
function takePrices(given, name) {
  const book = /** @type {any} */ (given)?.price_book ?? given;
  if (typeof book?.currency !== "string") return t("not_a_case", { name });
  putRest(["price_book"], book);
  return t("opened", { name });
}

/** @param {{label: string, on: boolean, put: (on: boolean) => void}} props */
const Tick = ({ label, on, put }) =>
  h("label", { class: "tick field" }, h("input", { type: "checkbox", checked: on, onChange: (/** @type {any} */ event) => put(event.currentTarget.checked) }), h("span", null, label));

/** The price beside the rest of the answer, where the case has a price book. */
export const BriefQuote = () => (state.quote || state.unpriced ? h(Priced, null) : null);

function Priced() {
  const { quote, unpriced } = state;
  if (unpriced) return h(Unpriced, { problem: unpriced });
  if (!quote) return h(Part, { title: t("price") }, h("p", { class: "soft" }, t("no_prices")));
  return h(
    Part,
    { title: t("price") },
    h("p", null, quote.says),
    h(Bill, { quote }),
    quote.not_included.length
      ? h("div", null, h("h3", null, t("not_included")), h("ul", null, quote.not_included.map((one) => h("li", { key: one.code }, one.title, one.only_if ? `: ${t("only_if", { what: one.only_if })}` : ""))))
      : null,
    quote.alternatives.length
      ? h(
          "div",
          null,
          h("h3", null, t("could_change")),
          h("ul", null, quote.alternatives.map((one) => h("li", { key: one.code + one.says }, one.says, one.totals ? ` ${money(one.totals.gross, quote.currency)}` : ""))),
        )
      : null,
    quote.repair_or_replace || quote.not_reckoned
      ? h("div", null, h("h3", null, t("against_new")), h("p", null, quote.repair_or_replace?.says ?? quote.not_reckoned))
      : null,
    quote.caveats.length ? h("div", null, h("h3", null, t("caveats")), h("ul", null, quote.caveats.map((one) => h("li", { key: one.code }, one.says)))) : null,
  );
}

/** @param {{quote: Schemas["Quote"]}} props */
function Bill({ quote }) {
  const { lines, taxes, totals, currency } = quote;
  return h(
    "table",
    { class: "bill" },
    h("thead", null, h("tr", null, h("th", { scope: "col" }, t("what")), h("th", { scope: "col", class: "amount" }, t("amount")))),
    h("tbody", null, lines.map((line) => h("tr", { key: line.kind + line.title }, h("td", null, line.title), h("td", { class: "amount" }, money(line.net, currency))))),
    h(
      "tfoot",
      null,
      taxes.map((tax) => h("tr", { key: tax.name }, h("th", { scope: "row" }, `${tax.name} ${tax.percent} %`), h("td", { class: "amount" }, money(tax.tax, currency)))),
      h("tr", { class: "total" }, h("th", { scope: "row" }, t("gross")), h("td", { class: "amount" }, money(totals.gross, currency))),
    ),
  );
}

/** @param {{problem: Schemas["Problem"]}} props */
function Unpriced({ problem }) {
  const faults = problem.errors ?? [];
  return h(
    Part,
    { title: t("unpriced") },
    faults.map(({ pointer, detail }) => {
      const path = (pointer ?? "").slice(1).split("/").map((name) => name.replaceAll("~1", "/").replaceAll("~0", "~"));
      const priced = path[0] === "price_book" && ["units", "consumables"].includes(path[1] ?? "") && path.length === 3;
      return h(
        "div",
        { key: pointer ?? detail, class: "field" },
        priced ? h("label", { for: `u${pointer}` }, t("price_of", { what: path[2] ?? "" })) : null,
        priced
          ? h("input", { id: `u${pointer}`, type: "text", inputmode: "decimal", "aria-describedby": `d${pointer}`, onChange: (/** @type {any} */ event) => putRest(path, event.currentTarget.value.trim().replace(",", ".")) })
          : null,
        h("p", { class: priced ? "hint" : "fault", id: `d${pointer}` }, detail),
      );
    }),
    faults.length ? null : h("p", null, problem.detail ?? problem.title),
  );
}

/** @param {string} amount @param {string} currency */
function money(amount, currency) {
  const digits = amount.split(".")[1]?.length ?? 0;
  return new Intl.NumberFormat(document.documentElement.lang, { style: "currency", currency, minimumFractionDigits: digits, maximumFractionDigits: digits }).format(/** @type {any} */ (amount));
}
