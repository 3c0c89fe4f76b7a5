// At the bench: from an empty page to a verdict, with ranges, unknowns, a wrong entry, the keyboard alone.
import assert from "node:assert/strict";
import { test } from "node:test";
import { accessible, fits, opened } from "./browser.mjs";
import { textsOf } from "./phrases.mjs";
import { browser, service, texts } from "./stage.mjs";


/** @param {import("playwright-core").Page} page @param {string} verdict */
const verdict = (page, verdict) => page.locator("#verdict", { hasText: texts.verdicts[verdict] }).waitFor();

/** @param {import("playwright-core").Page} page @param {string} pattern @param {string} text */
const type = (page, pattern, text) => page.getByLabel(texts.asks(pattern), { exact: true }).fill(text);

/** @param {import("playwright-core").Page} page @param {string} pattern @param {string} choice */
const choose = (page, pattern, choice) => page.getByRole("group", { name: texts.asks(pattern), exact: true }).getByRole("radio", { name: choice, exact: true }).check();

/** @param {import("playwright-core").Page} page */
async function aNailHole(page) {
  await page.getByRole("button", { name: texts.t("bench") }).click();
  await type(page, "/tyre/marking", "205/55R16 91V");
  await verdict(page, "inspect");
  await page.getByLabel(texts.asks("/vehicle/kind")).selectOption("car");
  await page.getByLabel(texts.asks("/history/complete")).check();
  await choose(page, "/history/losing_air", texts.t("no"));
  await type(page, "/tyre/date_code", "2323");
  await type(page, "/tyre/tread_depth_mm", "5");
  await page.getByLabel(texts.asks("/tyre/traits/complete")).check();
  await choose(page, "/injuries/*/region", texts.fields["/injuries/*/region"].choices.tread);
  await choose(page, "/injuries/*/depth", texts.fields["/injuries/*/depth"].choices.through);
  await page.locator("[id='f/injuries/0/measured_from']").check();
  await page.locator("[id='f/injuries/0/across_mm']").fill("30");
  await type(page, "/injuries/*/diameter_mm", "3.5 to 4.5");
  await choose(page, "/injuries/*/stage", texts.fields["/injuries/*/stage"].choices.found);
  await type(page, "/injuries/*/lean_deg", "5");
  await page.getByLabel(texts.asks("/inspection/complete")).check();
  await page.locator("[id='f/earlier_repairs']").selectOption("0");
}

test("from an empty page to a yes, with drawing, unit, trim, steps and limits", async () => {
  const { page, end } = await opened(browser, service.address);
  await aNailHole(page);
  await verdict(page, "repairable");
  for (const part of ["unit", "trim", "limits", "steps", "mind"]) await page.getByRole("heading", { name: texts.t(part), exact: true }).waitFor();
  assert.equal(await page.getByText(texts.t("if_it_passes")).count(), 0);
  await page.locator(".steps summary", { hasText: texts.t("only_if").replace("{what}", "a pressure sensor is fitted") }).first().waitFor();
  const pictures = page.locator(".pictures figure > img");
  assert.equal(await pictures.count(), 2);
  for (const picture of await pictures.all()) {
    assert.ok(await picture.evaluate((one) => /** @type {HTMLImageElement} */ (one).naturalWidth > 0));
    assert.match((await picture.getAttribute("alt")) ?? "", /May be repaired/);
  }
  await accessible(page);
  await end();
});

test("a larger hole turns the yes into a no, and says which rule", async () => {
  const { page, end } = await opened(browser, service.address);
  await aNailHole(page);
  await verdict(page, "repairable");
  await type(page, "/injuries/*/diameter_mm", "14");
  await page.locator("#verdict", { hasNotText: texts.verdicts.repairable }).waitFor();
  await page.getByRole("heading", { name: texts.t("against"), exact: true }).waitFor();
  await accessible(page);
  await end();
});

test("what is not known is never shown as a yes", async () => {
  const { page, end } = await opened(browser, service.address);
  await aNailHole(page);
  await verdict(page, "repairable");
  await page.getByLabel(texts.asks("/inspection/complete")).uncheck();
  await verdict(page, "inspect");
  await page.getByText(texts.t("if_it_passes")).first().waitFor();
  await type(page, "/tyre/marking", "");
  await page.locator("#verdict", { hasText: texts.t("begin") }).waitFor();
  assert.equal(await page.locator(".pictures img").count(), 0);
  await end();
});

test("the next question leads to its field, and its answer changes the verdict", async () => {
  const { page, end } = await opened(browser, service.address);
  await page.getByRole("button", { name: texts.t("bench") }).click();
  await type(page, "/tyre/marking", "205/55R16 91V");
  await page.getByRole("button", { name: texts.asks("/injuries/*/region") }).click();
  assert.equal(await page.evaluate(() => document.activeElement?.id), "f/injuries/0/region");
  await choose(page, "/injuries/*/region", texts.fields["/injuries/*/region"].choices.sidewall);
  await verdict(page, "not_repairable");
  await end();
});

test("a wrong entry is named at its field, and the answer waits", async () => {
  const { page, end } = await opened(browser, service.address);
  await page.getByRole("button", { name: texts.t("bench") }).click();
  await type(page, "/tyre/marking", "205/5");
  const marking = page.getByLabel(texts.asks("/tyre/marking"), { exact: true });
  await page.locator("#verdict", { hasText: texts.t("fix") }).waitFor();
  assert.equal(await marking.getAttribute("aria-invalid"), "true");
  const said = await marking.evaluate((one) => (one.getAttribute("aria-describedby") ?? "").split(" ").map((id) => document.getElementById(id)?.textContent).join(" "));
  assert.match(said, /rim code/);
  await accessible(page);
  await type(page, "/tyre/marking", "205/55R16 91V");
  await verdict(page, "inspect");
  await type(page, "/injuries/*/diameter_mm", "five");
  await page.getByText(texts.t("cannot_read").split("{")[0] ?? "").waitFor();
  await type(page, "/injuries/*/diameter_mm", "7 to 3");
  await page.getByText(texts.t("upside_down")).waitFor();
  await end(/422/);
});

test("an American bench types inches and 32nds, and reads American words", async () => {
  const { page, end } = await opened(browser, service.address);
  const american = await textsOf(service.address, "en-US");
  await page.getByRole("button", { name: texts.t("bench") }).click();
  await type(page, "/tyre/marking", "205/55R16 91V");
  await type(page, "/injuries/*/diameter_mm", "6.35");
  await page.getByLabel(texts.t("rulebook")).selectOption("us");
  await page.getByLabel(american.asks("/tyre/date_code"), { exact: true }).waitFor();
  assert.equal(await page.locator("html").getAttribute("lang"), "en-US");
  assert.equal(await page.getByLabel(american.asks("/injuries/*/diameter_mm"), { exact: true }).inputValue(), "0.25");
  const sent = page.waitForRequest((request) => request.url().endsWith("/v1/repair-plans") && (request.postData() ?? "").includes("tread_depth_mm"));
  await page.getByLabel(american.asks("/tyre/tread_depth_mm"), { exact: true }).fill("4/32");
  const body = JSON.parse((await sent).postData() ?? "");
  assert.equal(body.tyre.tread_depth_mm, 3.175);
  assert.equal(body.injuries[0].diameter_mm, 6.35);
  await end();
});

test("only the last of what is typed is answered", async () => {
  const { page, end } = await opened(browser, service.address);
  await page.getByRole("button", { name: texts.t("bench") }).click();
  await page.route("**/v1/repair-plans", async (route) => {
    // The first case is answered late: it must not overwrite the second.
    if ((route.request().postData() ?? "").includes("sidewall")) await new Promise((resolve) => setTimeout(resolve, 1500));
    await route.continue().catch(() => undefined);
  });
  await type(page, "/tyre/marking", "205/55R16 91V");
  await verdict(page, "inspect");
  await choose(page, "/injuries/*/region", texts.fields["/injuries/*/region"].choices.sidewall);
  await page.waitForRequest((request) => (request.postData() ?? "").includes("sidewall"));
  await choose(page, "/injuries/*/region", texts.fields["/injuries/*/region"].choices.tread);
  await page.waitForTimeout(2500);
  assert.match(await page.locator("#verdict").innerText(), new RegExp(texts.verdicts.inspect));
  await end();
});

test("the keyboard alone reaches a verdict, and every control shows that it has the focus", async () => {
  const { page, end } = await opened(browser, service.address);
  const focused = () => page.evaluate(() => document.activeElement?.getAttribute("name") ?? document.activeElement?.id ?? "");
  /** @param {string} id */
  const tabTo = async (id) => {
    for (let presses = 0; (await focused()) !== id; presses += 1) {
      assert.ok(presses < 200, `${id} is not reached`);
      await page.keyboard.press("Tab");
      const outlined = await page.evaluate(() => {
        const one = /** @type {HTMLElement} */ (document.activeElement);
        const shown = one.matches(".choices input") ? /** @type {HTMLElement} */ (one.nextElementSibling) : one;
        return getComputedStyle(shown).outlineStyle !== "none";
      });
      assert.ok(outlined || (await focused()) === "", await focused());
    }
  };
  await tabTo("f/tyre/marking");
  await page.keyboard.type("205/55R16 91V");
  await tabTo("/injuries/0/region");
  // From "not known" round to the first choice, and on to the sidewall.
  for (let step = 0; step < 3; step += 1) await page.keyboard.press("ArrowRight");
  await verdict(page, "not_repairable");
  await end();
});

for (const width of [360, 1024, 1920]) {
  test(`it fits a screen of ${width} px, in both schemes`, async () => {
    for (const colorScheme of /** @type {const} */ (["light", "dark"])) {
      const { page, end } = await opened(browser, service.address, { viewport: { width, height: 800 }, colorScheme });
      await aNailHole(page);
      await verdict(page, "repairable");
      await fits(page);
      await accessible(page);
      await end();
    }
  });
}
