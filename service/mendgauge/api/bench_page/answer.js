// What the service answers: the verdict first, then why, what to ask next, and what follows from it.

import { h } from "./preact.js";
import { ask } from "./asker.js";
import { stepNow } from "./conversation.js";
import { state } from "./state.js";
import { say, t, verdictWord, words } from "./texts.js";

/** @typedef {import("./state.js").Schemas} Schemas */
/** @typedef {Schemas["Finding"]} Finding */
/** @typedef {Schemas["ToEstablish"]} ToEstablish */

/** A sign beside each verdict, so that none is known by its colour alone. @type {Record<string, string>} */
const SIGNS = { repairable: "✓", specialist: "→", not_covered: "–", not_repairable: "✕", inspect: "?" };
/** @type {Record<string, string>} */
const TONES = { repairable: "yes", not_repairable: "no" };

/** The verdict and what to do now: read aloud whenever it changes. */
export function Verdict() {
  return h("div", { class: "verdict-bar" }, h("div", { role: "status", id: "verdict", class: "verdict" }, h(VerdictWords, null)), h(Standing, null));
}

/** What the verdict may still become, and what to do if nobody can be asked. */
export function Possible() {
  const { check, problem } = state;
  if (!check || problem) return null;
  const { verdict, possible_verdicts: possible, otherwise } = check;
  const step = stepNow();
  const lines = [
    verdict === "inspect" && possible.length > 1 ? t("may_become", { verdicts: possible.map(verdictWord).join("; ").toLowerCase() }) : "",
    step === "ask_first" && otherwise !== step ? t("if_nobody", { step: say(words().next_steps, otherwise).toLowerCase() }) : "",
  ].filter(Boolean);
  return lines.length ? h("div", { class: "possible soft" }, lines.map((line) => h("p", { key: line }, line))) : null;
}

function VerdictWords() {
  const { check, problem, working } = state;
  if (problem) return h("p", { class: "head tone-open" }, h("span", { class: "sign", "aria-hidden": true }, "!"), t("fix"));
  if (!check) return h("p", { class: "head" }, working ? t("working") : t("begin"));
  const { verdict } = check;
  return h(
    "p",
    { class: `head tone-${TONES[verdict] ?? "open"}` },
    h("span", { class: "sign", "aria-hidden": true }, SIGNS[verdict] ?? "?"),
    h("strong", null, verdictWord(verdict)),
    " ",
    h("span", { class: "step" }, say(words().next_steps, stepNow())),
  );
}

/** Whether the service is there, and whether what is shown is the answer to what is entered. */
function Standing() {
  const { away, notice, key } = state;
  return h(
    "div",
    { class: "standing" },
    h(
      "div",
      { role: "status", class: away ? "away" : "" },
      away ? h("p", null, h("span", { "aria-hidden": true }, "! "), t(away.busy ? "busy" : "offline", { seconds: away.seconds }), " ", state.check ? t("stale") : "") : null,
    ),
    away && !key ? h("button", { type: "button", onClick: () => ask(0) }, t("try_now")) : null,
    h("div", { role: "status", class: "notice" }, notice ? h("p", null, notice) : null),
  );
}

/** A part of the answer under its heading. @param {{title: string, children?: any, open?: boolean, id?: string}} props */
export const Part = ({ title, children, id }) => h("section", { class: "part", ...(id ? { id } : {}) }, h("h2", null, title), children);

/** @param {{texts: (string | null | undefined)[]}} props */
export const Lines = ({ texts }) => h("ul", null, texts.filter(Boolean).map((text) => h("li", { key: text }, text)));

/** Return the source of what a finding or an advice says.
 * @param {{cites?: string | null, basis?: string | null, source?: string | null, clause?: string}} one */
export function sourceOf(one) {
  const sources = state.plan?.sources ?? state.check?.sources ?? {};
  const cited = one.cites ? sources[one.cites] ?? state.check?.sources?.[one.cites] : undefined;
  const source = one.source ?? cited?.source;
  const basis = one.basis ?? cited?.basis;
  if (!source) return null;
  const place = one.clause ? `${source}, ${one.clause}` : source;
  return h("p", { class: "soft" }, t("source", { source: place, basis: say(words().basis, basis ?? "") }));
}

/** Why: what speaks against a repair, and what is still open. */
export function Reasons() {
  const findings = state.check?.findings ?? [];
  const broken = findings.filter(({ outcome }) => outcome === "broken");
  return broken.length ? h(Part, { title: t("against") }, broken.map((one) => h(Reason, { key: one.rule + (one.injury ?? ""), one }))) : null;
}

/** @param {{one: Finding}} props */
function Reason({ one }) {
  const advice = Object.values(one.advice ?? {});
  return h("div", { class: "reason" }, h("p", null, one.says), one.cause ? h("p", null, one.cause) : null, advice.length ? h(Lines, { texts: /** @type {string[]} */ (advice) }) : null, sourceOf(one));
}

/** What is asked next, of whoever stands where it can be answered. @param {{go?: (pointer: string) => void}} props */
export function Questions({ go }) {
  const questions = state.check?.to_establish ?? [];
  const [first, ...rest] = questions;
  if (!first) return null;
  return h(
    Part,
    { title: t("next_question") },
    h(Question, { question: first, ...(go ? { go } : {}) }),
    rest.length
      ? h("details", { class: "more" }, h("summary", null, `${t("more_questions")} (${rest.length})`), rest.map((question) => h(Question, { key: question.field, question, ...(go ? { go } : {}) })))
      : null,
  );
}

/** @param {{question: ToEstablish, go?: (pointer: string) => void}} props */
function Question({ question, go }) {
  return h(
    "div",
    { class: "question" },
    h("p", null, h("strong", null, question.asks)),
    h("p", { class: "soft" }, h("span", { class: "tag" }, say(words().asked_at, question.asked_at)), " ", question.how),
    go ? h("button", { type: "button", onClick: () => go(question.field) }, t("go_to_field"), h("span", { class: "unseen" }, ` ${question.asks}`)) : null,
  );
}

/** What to tell the driver until the tyre is seen to. */
export function UntilThen() {
  const advice = state.check?.until_then;
  if (!advice) return null;
  return h(Part, { title: t("until_then") }, h("p", null, h("strong", null, say(words().drive, advice.drive))), h(Lines, { texts: advice.says.map(({ says }) => says) }));
}

/** What whoever acts on the answer must know, as the service words it, each caution once. */
export function Cautions() {
  const { check, plan, work, units } = state;
  const all = [check, plan?.repair_units, plan?.stem_trims, work, units].flatMap((part) => part?.cautions ?? []);
  const texts = [...new Set(all.map(({ says }) => says))];
  return texts.length ? h(Part, { title: t("mind") }, h(Lines, { texts })) : null;
}

/** The edition that the answer rests on. */
export function RestsOn() {
  const check = state.check;
  if (!check) return null;
  const { id, edition } = check.rulebook;
  const day = new Intl.DateTimeFormat(document.documentElement.lang, { dateStyle: "long", timeZone: "UTC" }).format(new Date(check.assessed_on));
  return h("p", { class: "soft" }, t("rule_of", { id, edition, day }));
}

/** What stands before work that is not cleared: none of it is a yes. @param {{offer: string | undefined}} props */
const Proviso = ({ offer }) => (offer === "offered" ? null : h("p", { class: "hold" }, h("strong", null, t("if_it_passes"))));

/** How each channel is prepared, and the unit for it. */
export function Units() {
  const injuries = (state.units ?? state.plan?.repair_units)?.injuries ?? [];
  const shown = injuries.flatMap((injury) => {
    const chosen = injury.choices.flatMap((choice) => {
      const one = choice.chosen ?? choice.generic_instead;
      return one ? [{ when: choice.when, codes: one.pieces.map(({ code }) => code), arrows: one.arrows }] : choice.nothing_fits ? [{ when: choice.when, codes: [choice.nothing_fits.says], arrows: "" }] : [];
    });
    const says = [...(injury.limit ? [injury.limit.says] : []), ...(injury.preparation?.says ?? [])];
    if (!chosen.length && !says.length) return [];
    return [
      h(
        "div",
        { key: injury.injury },
        injuries.length > 1 ? h("h3", null, t("injury", { number: injury.injury + 1 })) : null,
        chosen.map(({ when, codes, arrows }) => h("p", { key: codes.join() }, when ? `${when.replace(/\.$/, "")}: ` : "", h("strong", null, codes.join(" + ")), arrows ? `. ${arrows}` : "")),
        h(Lines, { texts: says }),
      ),
    ];
  });
  return shown.length ? h(Part, { title: t("unit") }, h(Proviso, { offer: (state.units ?? state.plan?.repair_units)?.offer }), shown) : null;
}

/** Where each stem is cut. */
export function Trims() {
  const injuries = state.plan?.stem_trims?.injuries ?? [];
  const shown = injuries.filter(({ outside, inside }) => outside.length || inside);
  if (!shown.length) return null;
  return h(
    Part,
    { title: t("trim") },
    h(Proviso, { offer: state.plan?.stem_trims?.offer }),
    shown.map(({ injury, outside, inside }) =>
      h(
        "div",
        { key: injury },
        shown.length > 1 ? h("h3", null, t("injury", { number: injury + 1 })) : null,
        h(
          "ul",
          null,
          outside.map((cut) =>
            h("li", { key: cut.at }, outside.length > 1 && cut.emerges_in ? `${say(words().choices.emerges_in ?? {}, cut.emerges_in)}: ` : "", cut.says),
          ),
          inside ? h("li", null, inside.says) : null,
        ),
      ),
    ),
  );
}

/** What the tyre may do after the repair. */
export function Limits() {
  const limits = state.plan?.service_limits;
  if (!limits) return null;
  const { says, speed, load, position, caveats, follow_ups: later, findings } = limits;
  return h(
    Part,
    { title: t("limits") },
    h(Lines, { texts: [...new Set([says, speed.says, speed.book_says, load.says, load.book_says, position.says, ...findings.map((one) => one.says), ...caveats.map(({ long }) => long)])] }),
    later.length ? h("h3", null, t("follow_ups")) : null,
    later.length ? h(Lines, { texts: later.map((one) => one.says) }) : null,
  );
}

/** The work, step by step, with where to stop and check. */
export function Steps() {
  const work = state.work;
  if (!work?.steps.length) return null;
  const { low, likely, high } = work.minutes;
  const minutes = t("minutes", { low: Math.round(low), likely: Math.round(likely), high: Math.round(high) });
  return h(
    Part,
    { title: t("steps") },
    h("p", null, minutes),
    h(Lines, { texts: work.says }),
    h("ol", { class: "steps" }, work.steps.map((step) => h(Step, { key: step.code + step.title, step }))),
  );
}

/** @param {{step: Schemas["WorkStep"]}} props */
function Step({ step }) {
  const { title, only_if: only, do: toDo = [], parameters = [], hold, cautions = [] } = step;
  return h(
    "li",
    null,
    h(
      "details",
      null,
      h("summary", null, title, only ? h("span", { class: "soft" }, `, ${t("only_if", { what: only })}`) : null, hold ? h("span", { class: "tag" }, t("stop_and_check")) : null),
      h(Lines, { texts: [...toDo, ...parameters.map((one) => `${one.title}: ${one.says}`)] }),
      hold ? h("p", { class: "hold" }, h("strong", null, `${t("stop_and_check")}: `), hold.checks, h("br", null), h("strong", null, `${t("right_is")}: `), hold.right, h("br", null), h("strong", null, `${t("if_not")}: `), hold.if_not) : null,
      cautions.length ? h(Lines, { texts: cautions.map(({ says }) => says) }) : null,
    ),
  );
}

/** What is entered but none of the page's fields takes. @param {{faults: {pointer?: string | null, detail: string}[]}} props */
export function OtherFaults({ faults }) {
  const { problem } = state;
  if (!problem) return null;
  const lines = faults.map(({ pointer, detail }) => (pointer ? `${pointer}: ${detail}` : detail));
  if (!lines.length && problem.errors?.length) return null;
  return h("section", { class: "part", role: "alert" }, h("h2", null, t("other_faults")), h(Lines, { texts: lines.length ? lines : [problem.title, problem.detail] }));
}
