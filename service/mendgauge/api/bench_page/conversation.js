// How far the conversation with a driver is: what to ask now, and what to do once nothing is left to ask.

import { state } from "./state.js";

const BY_PHONE = ["record", "phone"];

/** Return the question to ask now, if one is left that changes what to do or what the driver is to hear.
 *
 * One that was just answered stands until the answer to it is judged: what the answer before left open says no more.
 */
export function nextQuestion() {
  const { check, asked, answered } = state;
  if (answered) return answered;
  if (!check) return undefined;
  const left = check.to_establish.filter(({ field, asked_at: where }) => BY_PHONE.includes(where) && !asked.includes(field));
  return left.find(({ settles }) => check.next_step === "ask_first" || settles.includes("until_then"));
}

/** Return what to do now: on the phone, once the driver was asked all, what is done where nobody can be asked. */
export function stepNow() {
  const { check, way } = state;
  if (!check) return "";
  return check.next_step === "ask_first" && way === "phone" && !nextQuestion() ? check.otherwise : check.next_step;
}
