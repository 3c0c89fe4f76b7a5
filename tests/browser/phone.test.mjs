// On the phone: one question at a time, from a marking to a booking or a no, and nothing that a driver cannot know.
import assert from "node:assert/strict";
import { test } from "node:test";
import { accessible, fits, opened } from "./browser.mjs";
import { browser, service, texts } from "./stage.mjs";


/** Begin a call about a tyre. @param {import("playwright-core").Page} page @param {string} [marking] */
async function begun(page, marking = "205/55R16 91V") {
  await page.getByRole("button", { name: texts.t("phone"), exact: true }).click();
  await page.getByLabel(texts.asks("/tyre/marking"), { exact: true }).fill(marking);
  await page.locator(".asked").waitFor();
}

test("a marking that cannot be read is answered beside it, in a sentence", async () => {
  const { page, end } = await opened(browser, service.address);
  await page.getByRole("button", { name: texts.t("phone"), exact: true }).click();
  await page.getByLabel(texts.asks("/tyre/marking"), { exact: true }).fill("205 55 16");
  await page.locator(".fault", { hasText: /^! [A-Z].* Is it 205\/55R16\?$/ }).waitFor();
  await end(/422/);
});

test("countries are listed by name", async () => {
  const { page, end } = await opened(browser, service.address);
  const options = page.getByLabel(texts.t("rulebook"), { exact: true }).locator("option");
  await options.nth(5).waitFor({ state: "attached" });
  const countries = await options.allInnerTexts();
  assert.deepEqual(countries, countries.toSorted());
  await end();
});

/** Answer what is asked by `answers`, "not known" otherwise, and return the questions until the outcome.
 * @param {import("playwright-core").Page} page @param {Record<string, string>} answers */
async function conversed(page, answers) {
  /** @type {string[]} */
  const questions = [];
  while ((await page.locator("#outcome").count()) === 0) {
    const asked = await page.locator(".asked h2").innerText();
    assert.ok(questions.length < 15, questions.join("\n"));
    assert.ok(!questions.includes(asked), `${asked} is asked twice`);
    questions.push(asked);
    const choice = answers[asked] ?? texts.t("dont_know");
    const button = page.locator(".asked .answers").getByRole("button", { name: choice, exact: true });
    await ((await button.count()) ? button : page.locator(".asked .answers button").last()).click();
    await page.locator(".asked h2", { hasNotText: asked }).waitFor();
  }
  return questions;
}

test("a call about a nail in the tread ends in a booking", async () => {
  const { page, end } = await opened(browser, service.address);
  await begun(page);
  await accessible(page);
  const questions = await conversed(page, {
    [texts.asks("/injuries/*/region")]: texts.fields["/injuries/*/region"].choices.tread,
    [texts.asks("/injuries/*/plugged_from_outside")]: texts.t("no"),
    [texts.asks("/tyre/traits/temporary_spare")]: texts.t("no"),
    [texts.asks("/history/losing_air")]: texts.t("no"),
    [texts.asks("/history/complete")]: texts.t("nothing_of_it"),
    [texts.asks("/tyre/traits/run_flat")]: texts.t("no"),
  });
  assert.ok(questions.length >= 3, questions.join("\n"));
  assert.equal(await page.locator("#outcome").innerText(), texts.page.next_steps.book_in);
  await page.getByRole("heading", { name: texts.t("until_then"), exact: true }).waitFor();
  await page.getByRole("heading", { name: texts.t("mind"), exact: true }).waitFor();
  await accessible(page);
  await end();
});

test("a hole in the sidewall ends in a no after one question, with the reason", async () => {
  const { page, end } = await opened(browser, service.address);
  await begun(page);
  const questions = await conversed(page, { [texts.asks("/injuries/*/region")]: texts.fields["/injuries/*/region"].choices.sidewall });
  assert.ok(questions.length <= 2, questions.join("\n"));
  assert.equal(await page.locator("#outcome").innerText(), texts.page.next_steps.replace);
  await page.getByRole("heading", { name: texts.t("against"), exact: true }).waitFor();
  await page.locator("#verdict", { hasText: texts.verdicts.not_repairable }).waitFor();
  await end();
});

test("a question that was answered stands, and takes no other answer, until what comes of it is known", async () => {
  const { page, end } = await opened(browser, service.address);
  await begun(page);
  const question = texts.asks("/injuries/*/region");
  await page.locator(".asked h2", { hasText: question }).waitFor();
  /** @type {() => void} */
  let goesOn = () => {};
  const held = new Promise((resolve) => (goesOn = () => resolve(undefined)));
  await page.route("**/v1/repairability", async (route) => {
    await held;
    await route.continue();
  });
  await page.locator(".asked").getByRole("button", { name: texts.fields["/injuries/*/region"].choices.sidewall, exact: true }).click();
  await page.locator(".asked[aria-busy=true]").waitFor();
  assert.deepEqual(await page.locator(".asked h2").allInnerTexts(), [question]);
  assert.equal(await page.locator(".asked .answers button:enabled").count(), 0);
  assert.equal(await page.locator("#outcome").count(), 0);
  await accessible(page);
  goesOn();
  await page.locator("#outcome", { hasText: texts.page.next_steps.replace }).waitFor();
  await end();
});

test("a driver who knows nothing is asked only what a driver can know, each thing once, and is booked in", async () => {
  const { page, end } = await opened(browser, service.address);
  await begun(page);
  const questions = await conversed(page, {});
  const byPhone = Object.values(texts.fields).filter((/** @type {any} */ one) => ["record", "phone"].includes(one.asked_at)).map((/** @type {any} */ one) => one.asks);
  const sections = Object.values(texts.page.complete);
  for (const asked of questions) assert.ok(byPhone.includes(asked) || !sections.includes(asked), asked);
  assert.equal(await page.locator("#outcome").innerText(), texts.page.next_steps.book_in);
  assert.equal(await page.locator("#verdict", { hasText: texts.verdicts.inspect }).count(), 1);
  assert.equal(await page.locator("#verdict .step").innerText(), texts.page.next_steps.book_in);
  assert.equal(await page.getByText(texts.t("if_nobody").split("{")[0]).count(), 0);
  await end();
});

test("what was said names the country whose rules are asked", async () => {
  const { page, end } = await opened(browser, service.address);
  await begun(page);
  await page.getByLabel(texts.t("rulebook"), { exact: true }).selectOption("za");
  await page.locator(".facts:visible dd", { hasText: "South Africa" }).waitFor();
  await end();
});

test("an answer can be taken back, and is asked for again", async () => {
  const { page, end } = await opened(browser, service.address);
  await begun(page);
  await conversed(page, { [texts.asks("/injuries/*/region")]: texts.fields["/injuries/*/region"].choices.sidewall });
  await page.getByRole("button", { name: `${texts.t("change")} ${texts.asks("/injuries/*/region")}` }).click();
  await page.locator(".asked h2", { hasText: texts.asks("/injuries/*/region") }).waitFor();
  await page.locator("#verdict", { hasText: texts.verdicts.inspect }).waitFor();
  await end();
});

test("the next question has the focus, so that a call goes on by the keyboard alone", async () => {
  const { page, end } = await opened(browser, service.address);
  await begun(page);
  const first = await page.locator(".asked h2").innerText();
  await page.locator(".asked .answers button").first().focus();
  await page.keyboard.press("Enter");
  await page.locator(".asked h2", { hasNotText: first }).waitFor();
  assert.equal(await page.evaluate(() => document.activeElement?.textContent), await page.locator(".asked h2").innerText());
  await page.keyboard.press("Tab");
  assert.ok(await page.evaluate(() => Boolean(document.activeElement?.closest(".asked"))));
  await end();
});

for (const width of [360, 1024, 1920]) {
  test(`a call fits a screen of ${width} px`, async () => {
    const { page, end } = await opened(browser, service.address, { viewport: { width, height: 740 } });
    await begun(page);
    await fits(page);
    await conversed(page, {});
    await fits(page);
    await accessible(page);
    await end();
  });
}
