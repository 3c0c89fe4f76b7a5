// The texts of the page and of the fields, as the service words them: one file a language, none of it written twice.

/** @typedef {"measured" | "number" | "text" | "yes_no" | "choice" | "list"} Kind */
/**
 * @typedef {object} FormField
 * @property {Kind} kind
 * @property {string} asks
 * @property {string} [how]
 * @property {string} [asked_at]
 * @property {string} [instrument]
 * @property {number} [low]
 * @property {number} [high]
 * @property {Record<string, string>} [choices]
 */
/** @typedef {Record<string, string>} Words */
/**
 * @typedef {object} Form
 * @property {string} language
 * @property {Words} verdicts
 * @property {{texts: Words, sections: Words, labels: Words, complete: Words, next_steps: Words, drive: Words,
 *   basis: Words, asked_at: Words, choices: Record<string, Words>}} page
 * @property {Record<string, FormField>} fields
 */

/** @type {Form} */
let form;
/** @type {Record<string, Form>} */
const held = {};

/** Speak a language from now on. @param {string} language */
export async function speak(language) {
  if (!held[language]) {
    const response = await fetch(`/page/texts.${language}.json`);
    if (!response.ok) throw new Error(`no texts in ${language}`);
    held[language] = await response.json();
  }
  form = /** @type {Form} */ (held[language]);
  document.documentElement.lang = language;
  return form;
}

/** Return all words in the language that is spoken. */
export const words = () => form.page;

/** Return a text with values in its places. @param {string} key @param {Record<string, string | number>} [values] */
export function t(key, values = {}) {
  const text = form.page.texts[key];
  if (text === undefined) throw new Error(`no text for ${key}`);
  return text.replace(/\{(\w+)\}/g, (_, name) => String(values[name] ?? ""));
}

/** Return the word for a word of an answer, or that word itself where this page does not know it yet.
 * @param {Words} table @param {string} word */
export const say = (table, word) => table[word] ?? word.replaceAll("_", " ");

/** Return a verdict in words. @param {string} verdict */
export const verdictWord = (verdict) => say(form.verdicts, verdict);

/** Return the field at a pointer; what has no entry is a setting of the shop, measured. @param {string} pointer
 * @returns {FormField} */
export function fieldAt(pointer) {
  const pattern = patternOf(pointer);
  const field = form.fields[pattern];
  if (field) return field;
  const kind = pattern.startsWith("/measuring/") ? "number" : "text";
  return { kind, asks: form.page.labels[pattern] ?? pattern, choices: {} };
}

/** Return the patterns of all fields that a case can be asked for. */
export const allPatterns = () => Object.keys(form.fields);

/** Return a pointer with any place in a list as `*`. @param {string} pointer */
export const patternOf = (pointer) => pointer.replace(/\/\d+(?=\/|$)/g, "/*");

/** Return whether the question of a pointer closes a whole section. @param {string} pointer */
export const closesSection = (pointer) => pointer.endsWith("/complete");
