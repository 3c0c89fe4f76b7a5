// The bench page: three ways in to the same case, asked of the public API and kept nowhere.

import { h, render } from "./preact.js";
import { Possible, Verdict } from "./answer.js";
import { AwayError, KeyError, json, keepKey } from "./api.js";
import { ask } from "./asker.js";
import { Bench } from "./bench.js";
import { entered, rulebookOf, unpacked } from "./case.js";
import { speakAs } from "./controls.js";
import { Counter } from "./counter.js";
import { Facts, Tools } from "./papers.js";
import { Phone } from "./phone.js";
import { change, drawWith, state } from "./state.js";
import { speak, t } from "./texts.js";

/** @typedef {import("./state.js").Way} Way */
/** @type {Record<Way, () => any>} */
const WAYS = { phone: Phone, bench: Bench, counter: Counter };
const page = /** @type {HTMLElement} */ (document.getElementById("page"));

function Page() {
  return h(
    "main",
    { class: `way-${state.way}` },
    h("div", { class: "bar no-print" }, h(Ways, null), h(Tools, null)),
    state.key ? h(AskForKey, { refused: state.key.refused }) : null,
    h(Verdict, null),
    h(Possible, null),
    h(Facts, { print: true }),
    h(WAYS[state.way], null),
  );
}

function Ways() {
  return h(
    "nav",
    { class: "ways no-print", "aria-label": t("ways") },
    /** @type {Way[]} */ (Object.keys(WAYS)).map((way) =>
      h(
        "button",
        { key: way, type: "button", "aria-pressed": String(state.way === way), onClick: () => take(way) },
        t(way),
      ),
    ),
    h("p", { class: "soft" }, t(`${state.way}_says`)),
  );
}

/** @param {Way} way */
function take(way) {
  change({ way });
  ask(0);
}

/** @param {{refused: boolean}} props */
function AskForKey({ refused }) {
  return h(
    "form",
    {
      class: "group key",
      onSubmit: (/** @type {any} */ event) => {
        event.preventDefault();
        keepKey(event.currentTarget.elements.key.value.trim());
        change({ key: null });
        void (state.books.length ? Promise.resolve() : loadBooks()).then(() => ask(0));
      },
    },
    h("h2", null, t("key_title")),
    h("label", { for: "key" }, t("key_label")),
    h("input", { id: "key", name: "key", type: "password", autocomplete: "off", required: true, "aria-describedby": "key-says" }),
    h("p", { class: "hint", id: "key-says" }, t("key_says")),
    refused ? h("p", { class: "fault", role: "alert" }, h("span", { "aria-hidden": true }, "! "), t("key_wrong")) : null,
    h("button", { class: "main" }, t("key_use")),
  );
}

/** Fetch which rulebooks there are; where the service is away, try again until it is not. */
async function loadBooks() {
  for (let seconds = 1; ; seconds = Math.min(seconds * 2, 15)) {
    try {
      const { rulebooks } = await json("/v1/rulebooks");
      change({ books: rulebooks, away: null });
      await speakAs(rulebookOf(state.entered));
      return;
    } catch (error) {
      if (error instanceof KeyError) return change({ key: { refused: error.refused } });
      if (!(error instanceof AwayError)) throw error;
      change({ away: { busy: error.busy, seconds } });
      await new Promise((resolve) => setTimeout(resolve, seconds * 1000));
    }
  }
}

/** Take the case that the address carries. */
async function fromAddress() {
  const letters = location.hash.slice(1);
  if (!letters) return;
  try {
    const carried = await unpacked(letters);
    const opened = entered(carried.case);
    if (!opened) throw new Error("no case");
    const way = carried.way in WAYS ? /** @type {Way} */ (carried.way) : state.way;
    const asked = Array.isArray(carried.asked) ? carried.asked.filter((/** @type {unknown} */ one) => typeof one === "string") : [];
    change({ entered: opened, way, asked });
  } catch {
    change({ notice: t("link_broken") });
  }
}

async function start() {
  await speak("en-GB");
  page.replaceChildren();
  drawWith(() => render(h(Page, null), page));
  change({ way: matchMedia("(max-width: 40rem)").matches ? "phone" : "bench" });
  await fromAddress();
  await loadBooks();
  ask(0);
  addEventListener("hashchange", () => void fromAddress().then(() => speakAs(rulebookOf(state.entered))).then(() => ask(0)));
}

void start();
