// The case kept: in a file, in a link, on paper; and what the page does when the service goes, or asks for a key.
import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import { readFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { test } from "node:test";
import { accessible, opened } from "./browser.mjs";
import { SOUND } from "./phrases.mjs";
import { started } from "./service.mjs";
import { browser, service, texts } from "./stage.mjs";


/** @param {import("playwright-core").Page} page @param {string} name @param {string} content */
async function open(page, name, content) {
  await page.locator(".case-menu").evaluate((menu) => menu.setAttribute("open", ""));
  const choosing = page.waitForEvent("filechooser");
  await page.getByRole("button", { name: texts.t("open"), exact: true }).click();
  await (await choosing).setFiles({ name, mimeType: "application/json", buffer: Buffer.from(content) });
}

/** @param {import("playwright-core").Page} page @param {string} verdict */
const verdict = (page, verdict) => page.locator("#verdict", { hasText: texts.verdicts[verdict] }).waitFor();

test("a case is opened from a file, and saved as it was", async () => {
  const { page, end } = await opened(browser, service.address);
  const kept = { ...SOUND, house_rules: { min_tread_mm: 3 }, measuring: { ruler_mm: 1 } };
  await open(page, "tarn-lane.json", JSON.stringify(kept));
  await verdict(page, "repairable");
  const downloading = page.waitForEvent("download");
  await page.getByRole("button", { name: texts.t("save"), exact: true }).click();
  const file = await downloading;
  assert.equal(file.suggestedFilename(), "Tarn-Lane-van-7.json");
  assert.deepEqual(JSON.parse((await readFile((await file.path()) ?? "")).toString()), kept);
  await end(/422/);
});

test("what is no case is refused, and what is entered stays", async () => {
  const { page, end } = await opened(browser, service.address);
  await open(page, "tarn-lane.json", JSON.stringify(SOUND));
  await verdict(page, "repairable");
  for (const content of ["no json", "[]", '{"rulebook": 3}', "null"]) {
    await open(page, "other.json", content);
    await page.getByText(texts.t("not_a_case").replace("{name}", "other.json")).waitFor();
  }
  await verdict(page, "repairable");
  await end();
});

test("the address carries the case to whoever gets the link, and past a reload", async () => {
  const { page, end } = await opened(browser, service.address);
  await open(page, "tarn-lane.json", JSON.stringify(SOUND));
  await verdict(page, "repairable");
  await page.waitForFunction(() => location.hash.length > 100);
  await page.reload();
  await verdict(page, "repairable");
  const link = page.url();
  const other = await opened(browser, link);
  await verdict(other.page, "repairable");
  assert.equal(await other.page.getByLabel(texts.asks("/tyre/marking"), { exact: true }).inputValue(), SOUND.tyre.marking);
  await other.end();
  const damaged = await opened(browser, `${link.slice(0, -40)}`);
  await damaged.page.getByText(texts.t("link_broken")).waitFor();
  await damaged.end();
  await end();
});

test("markup in a case stays text", async () => {
  const { page, end } = await opened(browser, service.address);
  const hostile = '<img src=x onerror="document.title=1"><script>document.title=2</script>';
  await open(page, "hostile.json", JSON.stringify({ ...SOUND, reference: hostile }));
  await verdict(page, "repairable");
  assert.equal(await page.title(), "Mendgauge");
  assert.equal(await page.locator("img[src='x']").count(), 0);
  await end();
});

test("it prints with verdict, facts and drawing, and without the form", async () => {
  const { page, end } = await opened(browser, service.address);
  await open(page, "tarn-lane.json", JSON.stringify(SOUND));
  await verdict(page, "repairable");
  await page.locator(".pictures img").first().waitFor();
  await page.emulateMedia({ media: "print" });
  assert.equal(await page.locator(".form").first().isVisible(), false);
  assert.equal(await page.locator(".facts").first().isVisible(), true);
  const pdf = await page.pdf({ format: "A4" });
  assert.equal(pdf.subarray(0, 5).toString(), "%PDF-");
  const python = fileURLToPath(new URL("../../.venv/bin/python", import.meta.url));
  const program = "import sys, io, pdfplumber; print('\\n'.join(p.extract_text() for p in pdfplumber.open(io.BytesIO(sys.stdin.buffer.read())).pages))";
  const text = spawnSync(python, ["-c", program], { input: pdf }).stdout.toString();
  for (const expected of [texts.verdicts.repairable, SOUND.tyre.marking, SOUND.reference]) assert.ok(text.includes(expected), expected);
  await end();
});

test("it says when the service is away, keeps what is entered, and goes on by itself when it is back", async () => {
  let own = await started();
  const { page, end } = await opened(browser, own.address);
  await open(page, "tarn-lane.json", JSON.stringify(SOUND));
  await verdict(page, "repairable");
  await own.stop();
  await page.locator("[id='f/injuries/0/diameter_mm']").fill("14");
  await page.locator(".standing .away").getByText(/\S/).first().waitFor();
  await page.getByText(texts.t("stale")).waitFor();
  await accessible(page);
  own = await started({ port: own.port });
  await page.locator("#verdict", { hasNotText: texts.verdicts.repairable }).waitFor();
  await page.getByText(texts.t("back")).waitFor();
  assert.equal(await page.locator("[id='f/injuries/0/diameter_mm']").inputValue(), "14");
  await end(/ERR_CONNECTION|Failed to load/);
  await own.stop();
});

test("where keys are asked for, the page asks for one and keeps it in the tab alone", async () => {
  const made = spawnSync(fileURLToPath(new URL("../../.venv/bin/mendgauge", import.meta.url)), ["keys", "new", "bench"]).stdout.toString();
  const key = /mendgauge_[\w-]+/.exec(made)?.[0] ?? "";
  const stored = /bench:[0-9a-f]{64}/.exec(made)?.[0] ?? "";
  assert.ok(key && stored, made);
  const own = await started({ env: { MENDGAUGE_API_KEYS: stored } });
  const { page, end } = await opened(browser, own.address);
  await page.getByRole("heading", { name: texts.t("key_title") }).waitFor();
  await accessible(page);
  await page.getByLabel(texts.t("key_label"), { exact: true }).fill("wrong");
  await page.getByRole("button", { name: texts.t("key_use") }).click();
  await page.getByText(texts.t("key_wrong")).waitFor();
  await page.getByLabel(texts.t("key_label"), { exact: true }).fill(key);
  await page.getByRole("button", { name: texts.t("key_use") }).click();
  await page.getByRole("heading", { name: texts.t("key_title") }).waitFor({ state: "detached" });
  await open(page, "tarn-lane.json", JSON.stringify(SOUND));
  await verdict(page, "repairable");
  const kept = await page.evaluate(() => ({ session: Object.values(sessionStorage), local: localStorage.length, cookie: document.cookie, address: location.href }));
  assert.deepEqual(kept.session, [key]);
  assert.equal(kept.local, 0);
  assert.equal(kept.cookie, "");
  assert.ok(!kept.address.includes(key));
  await end(/401/);
  await own.stop();
});
