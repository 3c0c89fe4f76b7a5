// At the counter: a price from the shop's own prices, and the papers.
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { test } from "node:test";
import { accessible, fits, opened } from "./browser.mjs";
import { SOUND } from "./phrases.mjs";
import { browser, service, texts } from "./stage.mjs";


/** Open a case that is settled, at the counter. @param {import("playwright-core").Page} page */
async function atTheCounter(page) {
  await page.getByText(texts.t("case_menu"), { exact: true }).click();
  const choosing = page.waitForEvent("filechooser");
  await page.getByRole("button", { name: texts.t("open"), exact: true }).click();
  await (await choosing).setFiles({ name: "tarn-lane.json", mimeType: "application/json", buffer: Buffer.from(JSON.stringify(SOUND)) });
  await page.getByRole("button", { name: texts.t("counter"), exact: true }).click();
  await page.locator("#verdict", { hasText: texts.verdicts.repairable }).waitFor();
}

/** @param {import("playwright-core").Page} page @param {Record<string, string>} prices */
async function priced(page, prices) {
  for (const [key, text] of Object.entries(prices)) await page.getByLabel(texts.t(key), { exact: true }).fill(text);
}

test("from the shop's hour to what the customer pays, tax and all", async () => {
  const { page, end } = await opened(browser, service.address);
  await atTheCounter(page);
  await priced(page, { currency: "gbp", per_hour: "60.00", tax_name: "VAT", tax_percent: "20" });
  await page.getByLabel(texts.t("flat")).check();
  const total = page.locator(".bill .total .amount");
  await total.waitFor();
  assert.match(await total.innerText(), /^£\d+\.\d\d$/);
  await priced(page, { new_tyre_price: "110.00" });
  await page.getByRole("heading", { name: texts.t("against_new"), exact: true }).waitFor();
  await accessible(page);
  await end(/422/);
});

test("what has no price yet is asked for, one by one, until there is a total", async () => {
  const { page, end } = await opened(browser, service.address);
  await atTheCounter(page);
  await priced(page, { currency: "GBP", per_hour: "60.00" });
  await page.getByRole("heading", { name: texts.t("unpriced"), exact: true }).waitFor();
  await accessible(page);
  for (let left = 20; left > 0; left -= 1) {
    const missing = page.locator("input[id^='u/']");
    if ((await missing.count()) === 0) break;
    const before = await missing.count();
    await missing.first().fill("0.50");
    await missing.first().press("Tab");
    await page.waitForFunction((count) => document.querySelectorAll("input[id^='u/']").length < count, before);
  }
  await page.locator(".bill .total").waitFor();
  await end(/422/);
});

for (const sheet of ["card", "gauge_sheet"]) {
  test(`the ${sheet} comes as a PDF`, async () => {
    const { page, end } = await opened(browser, service.address);
    await atTheCounter(page);
    const downloading = page.waitForEvent("download");
    await page.getByRole("button", { name: texts.t(sheet) }).click();
    const saved = await downloading;
    assert.match(saved.suggestedFilename(), /\.pdf$/);
    assert.equal((await readFile((await saved.path()) ?? "")).subarray(0, 5).toString(), "%PDF-");
    await end();
  });
}

test("a price book can be saved and opened again", async () => {
  const { page, end } = await opened(browser, service.address);
  await atTheCounter(page);
  await priced(page, { currency: "GBP", per_hour: "54.00" });
  const downloading = page.waitForEvent("download");
  await page.getByRole("button", { name: texts.t("save_prices") }).click();
  const book = await readFile((await (await downloading).path()) ?? "");
  assert.equal(JSON.parse(book.toString()).labour.per_hour, "54.00");
  await priced(page, { per_hour: "1.00" });
  const choosing = page.waitForEvent("filechooser");
  await page.getByRole("button", { name: texts.t("open_prices") }).click();
  await (await choosing).setFiles({ name: "prices.json", mimeType: "application/json", buffer: book });
  await page.getByText(texts.t("opened").replace("{name}", "prices.json")).waitFor();
  assert.equal(await page.getByLabel(texts.t("per_hour"), { exact: true }).inputValue(), "54.00");
  await end(/422/);
});

for (const width of [360, 1024, 1920]) {
  test(`the counter fits a screen of ${width} px`, async () => {
    const { page, end } = await opened(browser, service.address, { viewport: { width, height: 740 } });
    await atTheCounter(page);
    await priced(page, { currency: "GBP", per_hour: "60.00" });
    await page.getByLabel(texts.t("flat")).check();
    await page.locator(".bill .total").waitFor();
    await fits(page);
    await accessible(page);
    await end(/422/);
  });
}
