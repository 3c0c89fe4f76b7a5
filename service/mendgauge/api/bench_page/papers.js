// The case as a file, as a link, and on paper.

import { h } from "./preact.js";
import { AwayError, KeyError, RefusedError } from "./api.js";
import { ask, card, gauge, keepInAddress } from "./asker.js";
import { caseOf, entered, nothingEntered, rulebookOf } from "./case.js";
import { inWords, known, speakAs } from "./controls.js";
import { change, state } from "./state.js";
import { fieldAt, t } from "./texts.js";

/** Let a person save a value as a file. @param {string} name @param {unknown} value */
export function saveFile(name, value) {
  offer(new Blob([`${JSON.stringify(value, null, 2)}\n`], { type: "application/json" }), name);
}

/** @param {Blob} blob @param {string} name */
function offer(blob, name) {
  const url = URL.createObjectURL(blob);
  const link = document.createElement("a");
  link.href = url;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
}

/** Let a person choose a JSON file. @param {(given: unknown, name: string) => string} take returns what to say of it */
export function chooseFile(take) {
  const input = document.createElement("input");
  input.type = "file";
  input.accept = "application/json,.json";
  input.addEventListener("change", async () => {
    const file = input.files?.[0];
    if (file) change({ notice: take(await readJson(file), file.name) });
  });
  input.click();
}

/** @param {File} file @returns {Promise<unknown>} */
async function readJson(file) {
  try {
    return JSON.parse(await file.text());
  } catch {
    return undefined;
  }
}

/** Take a case that was saved. @param {unknown} given @param {string} name */
function takeCase(given, name) {
  const opened = entered(given);
  if (!opened) return t("not_a_case", { name });
  change({ entered: opened, asked: [], sure: false });
  void speakAs(rulebookOf(opened)).then(() => ask(0));
  return t("opened", { name });
}

function save() {
  const given = caseOf(state.entered);
  const name = (given.reference ?? given.tyre.marking ?? "").replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-|-$/g, "");
  saveFile(`${name || "case"}.json`, given);
}

async function share() {
  await keepInAddress();
  try {
    await navigator.clipboard.writeText(location.href);
    change({ notice: `${t("copied")} ${t("share_says")}` });
  } catch {
    change({ notice: `${t("not_copied")} ${t("share_says")}` });
  }
}

/** Forget everything that is entered; the rulebook stays. */
export function startAgain() {
  const fresh = nothingEntered();
  fresh.values["/rulebook"] = rulebookOf(state.entered);
  change({ entered: fresh, asked: [], sure: false, notice: "" });
  history.replaceState(null, "", location.pathname);
  ask(0);
}

/** What can be done with the whole case. */
export function Tools() {
  return h(
    "details",
    { class: "case-menu no-print" },
    h("summary", { class: "button" }, t("case_menu")),
    h(
    "div",
    { class: "tools" },
    h("button", { type: "button", onClick: save }, t("save")),
    h("button", { type: "button", onClick: () => chooseFile(takeCase) }, t("open")),
    h("button", { type: "button", onClick: () => void share() }, t("share")),
    h("button", { type: "button", onClick: () => window.print() }, t("printing")),
    h("button", { type: "button", onClick: () => (state.sure ? startAgain() : change({ sure: true })) }, t("start_again")),
    h("p", { role: "status", class: "notice" }, state.sure ? t("sure") : ""),
    ),
  );
}

/** Let a person save a sheet that the service prints. @param {() => Promise<Response>} print */
async function fetchSheet(print) {
  change({ notice: t("sheet_fetching") });
  try {
    const response = await print();
    const name = /filename="([^"]+)"/.exec(response.headers.get("Content-Disposition") ?? "")?.[1] ?? "sheet.pdf";
    offer(await response.blob(), name);
    change({ notice: t("sheet_ready", { name }) });
  } catch (error) {
    if (error instanceof RefusedError) {
      change({ notice: error.problem.status === 501 ? t("sheet_not_here") : error.problem.detail ?? error.problem.title });
    } else if (error instanceof KeyError) {
      change({ key: { refused: error.refused }, notice: "" });
    } else if (error instanceof AwayError) {
      change({ notice: t("busy", { seconds: error.after ?? 1 }) });
    } else {
      throw error;
    }
  }
}

/** The printed sheets; of the gauge only where somebody stands at the tyre. @param {{withGauge?: boolean}} props */
export function Papers({ withGauge }) {
  const kind = caseOf(state.entered).vehicle?.kind;
  return h(
    "div",
    { class: "tools no-print" },
    h("button", { type: "button", class: "main", disabled: !state.check, onClick: () => void fetchSheet(card) }, t("card")),
    withGauge
      ? h("button", { type: "button", disabled: !state.check || !kind, onClick: () => void fetchSheet(gauge) }, t("gauge_sheet"))
      : null,
  );
}

/** What is entered, in words: what a print of the page says of the tyre. @param {{print?: boolean, change?: (pointer: string) => void}} props */
export function Facts({ print, change: alter }) {
  const pointers = known();
  if (!pointers.length) return null;
  return h(
    "section",
    { class: print ? "part print-only" : "part" },
    h("h2", null, t("progress")),
    h(
      "dl",
      { class: "facts" },
      pointers.map((pointer) =>
        h(
          "div",
          { key: pointer },
          h("dt", null, fieldAt(pointer).asks),
          h("dd", null, inWords(pointer), alter ? h("button", { type: "button", onClick: () => alter(pointer) }, t("change"), h("span", { class: "unseen" }, ` ${fieldAt(pointer).asks}`)) : null),
        ),
      ),
    ),
  );
}
