// On the phone: one question at a time, only what a driver knows, until there is a booking or a no.

import { h } from "./preact.js";
import { Cautions, OtherFaults, Reasons, RestsOn, UntilThen } from "./answer.js";
import { ask } from "./asker.js";
import { Field, Rulebooks, enter, otherFaults } from "./controls.js";
import { nextQuestion, stepNow } from "./conversation.js";
import { Facts, Papers, startAgain } from "./papers.js";
import { change, state } from "./state.js";
import { closesSection, fieldAt, say, t, words } from "./texts.js";

/** @typedef {import("./state.js").Schemas["ToEstablish"]} ToEstablish */

const GIVEN_FIRST = ["/rulebook", "/tyre/marking", "/reference"];

/** Go on from a question that was answered, with its parts: none of them is asked again. @param {ToEstablish} question */
function goOn(question) {
  const answered = [...(question.parts ?? []), question.field];
  change({ answered: question, asked: [...state.asked.filter((one) => !answered.includes(one)), ...answered] });
  ask(0);
}

/** Answer a question and go on. @param {ToEstablish} question @param {string} text */
function answer(question, text) {
  if (text) enter(question.field, text);
  goOn(question);
}

/** Ask a question again. @param {string} pointer */
function askAgain(pointer) {
  const values = { ...state.entered.values };
  delete values[pointer];
  const section = pointer.slice(0, pointer.lastIndexOf("/"));
  if (pointer !== "/tyre/marking") delete values[`${section}/complete`];
  change({ answered: null, entered: { ...state.entered, values }, asked: state.asked.filter((one) => one !== pointer && one !== `${section}/complete`) });
  ask(0);
}

/** The way in on the phone. */
export function Phone() {
  const question = nextQuestion();
  const begun = Boolean(state.check);
  return h(
    "div",
    { class: "phone" },
    h(
      "div",
      { class: "form", id: "answer", tabindex: -1 },
      h("section", { class: "group" }, h(Rulebooks, null), h(Field, { pointer: "/tyre/marking" })),
      h(OtherFaults, { faults: otherFaults(["/rulebook", "/tyre/marking"]) }),
      question ? h(Asked, { key: question.field, question }) : begun ? h(Outcome, null) : null,
    ),
    h(
      "div",
      { class: "results" },
      h(UntilThen, null),
      h(Reasons, null),
      h(Facts, { change: askAgain }),
      h(Cautions, null),
      h(RestsOn, null),
    ),
  );
}

/** Put the focus on a question that has just come, unless someone is typing elsewhere. @param {any} element */
function lead(element) {
  if (element && state.asked.length && !element.dataset.led) {
    element.dataset.led = "yes";
    element.focus();
  }
}

/** @param {{question: ToEstablish}} props */
function Asked({ question }) {
  const { field: pointer, asks, how, asked_at: where } = question;
  return h(
    "section",
    { class: "asked group", "aria-busy": isAnswered() },
    h("p", { class: "soft" }, h("span", { class: "tag" }, say(words().asked_at, where))),
    h("h2", { tabindex: -1, ref: lead }, asks),
    h("p", null, how),
    closesSection(pointer) ? h(Parts, { question }) : h(Choices, { question }),
  );
}

/** Return whether a question was answered and nothing has come of it yet: it takes no other answer. */
const isAnswered = () => state.answered !== null;

/** @param {{question: ToEstablish}} props */
function Choices({ question }) {
  const field = fieldAt(question.field);
  const choices = field.kind === "yes_no" ? { yes: t("yes"), no: t("no") } : field.kind === "choice" ? field.choices ?? {} : undefined;
  if (!choices) return h(TypedAnswer, { question });
  return h(
    "div",
    { class: "answers" },
    Object.entries(choices).map(([word, label]) => h("button", { key: word, type: "button", disabled: isAnswered(), onClick: () => answer(question, word) }, label)),
    h("button", { type: "button", class: "unsure", disabled: isAnswered(), onClick: () => answer(question, "") }, t("dont_know")),
  );
}

/** @param {{question: ToEstablish}} props */
function TypedAnswer({ question }) {
  return h(
    Answered,
    { question },
    h(Field, { pointer: question.field }),
    h("div", { class: "answers" }, h("button", { class: "main", disabled: isAnswered() }, t("go_on")), h("button", { type: "button", disabled: isAnswered(), onClick: () => answer(question, "") }, t("dont_know"))),
  );
}

/** A question about a whole section: each of its parts, or none of them. @param {{question: ToEstablish}} props */
function Parts({ question }) {
  return h(
    Answered,
    { question },
    (question.parts ?? []).map((part) => h(Field, { key: part, pointer: part })),
    h(
      "div",
      { class: "answers" },
      h("button", { class: "main", disabled: isAnswered() }, t("go_on")),
      h("button", { type: "button", disabled: isAnswered(), onClick: () => answer(question, "yes") }, t("nothing_of_it")),
    ),
  );
}

/** A form that answers a question by what is entered in it. @param {{question: ToEstablish, children?: any}} props */
function Answered({ question, children }) {
  const onSubmit = (/** @type {Event} */ event) => {
    event.preventDefault();
    goOn(question);
  };
  return h("form", { onSubmit }, children);
}

/** How the call ends. */
function Outcome() {
  return h(
    "section",
    { class: "asked group" },
    h("p", { class: "soft" }, t("phone_done")),
    h("h2", { tabindex: -1, ref: lead, id: "outcome" }, say(words().next_steps, stepNow())),
    GIVEN_FIRST.slice(2).map((pointer) => h(Field, { key: pointer, pointer })),
    h(Papers, null),
    h(
      "div",
      { class: "answers" },
      h("button", { type: "button", class: "main", onClick: startAgain }, t("new_call")),
      h("button", { type: "button", onClick: () => { change({ way: "bench" }); ask(0); } }, t("take_to_bench")),
    ),
  );
}

