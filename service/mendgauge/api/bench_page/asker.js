// Asks the service as somebody types: a little later, the last case wins, what was under way before is given up.

import { AwayError, KeyError, RefusedError, call, json } from "./api.js";
import { caseOf, packed } from "./case.js";
import { NO_ANSWER, change, state } from "./state.js";
import { t } from "./texts.js";

/** @typedef {import("./case.js").TyreCase} TyreCase */

const WAIT_MS = 250;
const LONGEST_WAIT_S = 15;

/** @type {ReturnType<typeof setTimeout> | undefined} */
let waiting;
/** @type {AbortController | undefined} */
let underWay;
let tries = 0;

/** Ask for the answer to what is entered now. @param {number} [wait] milliseconds for more to be typed */
export function ask(wait = WAIT_MS) {
  clearTimeout(waiting);
  underWay?.abort();
  waiting = setTimeout(() => void answered(), wait);
}

async function answered() {
  const mine = new AbortController();
  underWay = mine;
  if (!state.entered.values["/tyre/marking"]?.trim()) {
    forget({ problem: null, working: false });
    return;
  }
  const given = caseOf(state.entered);
  change({ working: true });
  try {
    void keepInAddress();
    await ASK[state.way](given, mine.signal);
    if (!mine.signal.aborted) arrived();
  } catch (error) {
    if (!mine.signal.aborted) failed(error);
  }
}

function arrived() {
  const was = state.away;
  tries = 0;
  change({ working: false, away: null, key: null, ...(was ? { notice: t("back") } : {}) });
}

/** Take every answer away, so that none is read as that of another case. @param {Partial<import("./state.js").State>} part */
function forget(part) {
  for (const { url } of state.pictures) URL.revokeObjectURL(url);
  change({ ...NO_ANSWER, pictures: [], ...part });
}

/** @param {unknown} error */
function failed(error) {
  if (error instanceof KeyError) {
    forget({ working: false, key: { refused: error.refused } });
  } else if (error instanceof RefusedError) {
    tries = 0;
    forget({ working: false, away: null, problem: error.problem });
  } else if (error instanceof AwayError) {
    tryLater(error);
  } else {
    throw error;
  }
}

/** @param {AwayError} error */
function tryLater(error) {
  tries += 1;
  const seconds = Math.min(error.after ?? 2 ** (tries - 1), LONGEST_WAIT_S);
  change({ working: false, away: { busy: error.busy, seconds } });
  clearTimeout(waiting);
  waiting = setTimeout(() => void answered(), seconds * 1000);
}

/** The questions of each way in. What comes first is shown first.
 * @type {Record<import("./state.js").Way, (given: TyreCase, signal: AbortSignal) => Promise<void>>} */
const ASK = {
  async phone(given, signal) {
    const check = await json("/v1/repairability", { ...unpricedCase(given), detail: "full" }, signal);
    forget({ check, problem: null });
  },
  async bench(given, signal) {
    await planned(given, signal);
    await Promise.all([pictured(given, signal), worked(given, signal), quoted(given, signal)]);
  },
  async counter(given, signal) {
    await planned(given, signal);
    await quoted(given, signal);
  },
};

/** Return a case without its prices: what has no price yet is no reason to leave the rest unanswered.
 * @param {TyreCase} given @returns {TyreCase} */
function unpricedCase(given) {
  const { price_book: _prices, replacement: _replacement, ...rest } = given;
  return rest;
}

/** @param {TyreCase} given @param {AbortSignal} signal */
async function planned(given, signal) {
  const plan = await json("/v1/repair-plans", unpricedCase(given), signal);
  signal.throwIfAborted();
  change({ plan, check: plan.repairability, work: null, units: null, quote: null, problem: null });
}

/** What the bench works by is asked for once there is something to work on.
 * @param {TyreCase} given @param {AbortSignal} signal */
async function worked(given, signal) {
  if (state.plan?.work_plan?.offer !== "offered") return;
  const [work, units] = await Promise.all(
    ["/v1/work-plans", "/v1/repair-units"].map((path) => json(path, unpricedCase(given), signal)),
  );
  signal.throwIfAborted();
  change({ work, units });
}

/** @param {TyreCase} given @param {AbortSignal} signal */
async function pictured(given, signal) {
  /** @type {import("./state.js").Picture["view"][]} */
  const views = ["crown_section", "liner_plan"];
  const pictures = await Promise.all(
    views.map(async (view) => {
      const response = await call(`/v1/drawings?view=${view}`, { body: unpricedCase(given), signal, accept: "image/svg+xml" });
      const svg = await response.text();
      const read = new DOMParser().parseFromString(svg, "image/svg+xml");
      const words = (/** @type {string} */ name) => read.querySelector(name)?.textContent ?? "";
      const url = URL.createObjectURL(new Blob([svg], { type: "image/svg+xml" }));
      return { view, url, title: words("title"), description: words("desc") };
    }),
  );
  for (const { url } of signal.aborted ? pictures : state.pictures) URL.revokeObjectURL(url);
  signal.throwIfAborted();
  change({ pictures });
}

/** @param {TyreCase} given @param {AbortSignal} signal */
async function quoted(given, signal) {
  if (!given.price_book) {
    change({ quote: null, unpriced: null });
    return;
  }
  try {
    const quote = await json("/v1/quotes", given, signal);
    signal.throwIfAborted();
    change({ quote, unpriced: null });
  } catch (error) {
    if (!(error instanceof RefusedError)) throw error;
    change({ quote: null, unpriced: error.problem });
  }
}

/** Return the paper that shops of a rulebook's country print on. @param {string} rulebook */
const paperOf = (rulebook) => (rulebook.startsWith("us") ? "letter" : "a4");

/** Return the printed sheet of what is entered. */
export async function card() {
  const given = caseOf(state.entered);
  return call(`/v1/job-cards?paper=${paperOf(given.rulebook)}`, { body: unpricedCase(given), accept: "application/pdf" });
}

/** Return the paper gauge for the tyre that is entered. */
export async function gauge() {
  const { rulebook, tyre, vehicle, assessed_on } = caseOf(state.entered);
  const asked = new URLSearchParams({ marking: tyre.marking, rulebook, paper: paperOf(rulebook) });
  if (vehicle?.kind) asked.set("vehicle_kind", vehicle.kind);
  if (typeof tyre.tread_width_mm === "number") asked.set("tread_width_mm", String(tyre.tread_width_mm));
  if (assessed_on) asked.set("assessed_on", assessed_on);
  return call(`/v1/gauges?${asked}`, { accept: "application/pdf" });
}

/** Keep the case in the address, so that it outlives a reload and can be sent as a link. */
export async function keepInAddress() {
  const carried = { way: state.way, case: caseOf(state.entered), asked: state.asked };
  const fragment = await packed(carried);
  history.replaceState(null, "", `#${fragment}`);
}
