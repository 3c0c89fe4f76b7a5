// The documentation: an example runs where it stands, a word is found, a rulebook is read on a phone and on paper.
import assert from "node:assert/strict";
import { test } from "node:test";
import { accessible, fits, opened } from "./browser.mjs";
import { started } from "./service.mjs";
import { browser, service } from "./stage.mjs";


const PAGES = [
  "/docs",
  "/docs/operations/check_repairability",
  "/docs/operations/print_gauge",
  "/docs/operations/draw_tyre",
  "/docs/concepts/unknown",
  "/docs/fields/Injury",
  "/docs/concepts/basis",
  "/rulebooks",
  "/rulebooks/us",
  "/rulebooks/gb@2026.2/since/2026.1",
  "/problems/contract-broken",
  "/docs/none",
];
const PHONE = { viewport: { width: 360, height: 740 } };
const NOT_IN_PROSE = "button, select, input, summary";
const LOST = /404 \(Not Found\)/;

for (const path of PAGES) {
  for (const colorScheme of /** @type {const} */ (["light", "dark"])) {
    test(`${path} is accessible and fits a phone in ${colorScheme}`, async () => {
      const { page, end } = await opened(browser, service.address + path, { ...PHONE, colorScheme });
      await accessible(page);
      await fits(page, NOT_IN_PROSE);
      await end(path === "/docs/none" ? LOST : undefined);
    });
  }
}

test("the main question runs from the page, by keyboard alone", async () => {
  const { page, end } = await opened(browser, `${service.address}/docs/operations/check_repairability`);
  const example = page.locator(".example").first();
  await example.getByLabel("What is sent").focus();
  await page.keyboard.press("Tab");
  await page.keyboard.press("Enter");
  const answer = example.locator(".answer pre");
  await answer.waitFor();
  assert.match(await example.getByRole("status").innerText(), /^200, answered after \d+ ms$/);
  assert.equal(JSON.parse(await answer.innerText()).verdict, "inspect");
  await accessible(page);
  await end();
});

test("a changed example is answered as it stands, and a wrong one is refused with the place", async () => {
  const { page, end } = await opened(browser, `${service.address}/docs/operations/check_repairability`);
  const example = page.locator(".example").first();
  const sent = example.getByLabel("What is sent");
  await sent.fill('{"rulebook": "gb", "tyre": {"marking": "205/55R16 91V"}, "injuries": [{"region": "sidewall", "depth": "through"}]}');
  await sent.press("Control+Enter");
  await example.locator(".answer pre").waitFor();
  assert.equal(JSON.parse(await example.locator(".answer pre").innerText()).verdict, "not_repairable");
  await sent.fill('{"rulebook": "gb", "tyre": {"marking": 5}}');
  await sent.press("Control+Enter");
  await example.getByText("422, refused").waitFor();
  assert.equal(JSON.parse(await example.locator(".answer pre").innerText()).errors[0].pointer, "/tyre/marking");
  await end(/status of 422/);
});

test("parameters are asked for in fields, and a drawing is shown", async () => {
  const marking = await opened(browser, `${service.address}/docs/operations/read_tyre_marking`);
  const example = marking.page.locator(".example").first();
  await example.getByLabel("marking", { exact: true }).fill("195/65R15 91H");
  await example.getByRole("button", { name: "Run" }).click();
  assert.match(await example.locator(".answer pre").innerText(), /"section_width_mm": 195/);
  await marking.end();
  const drawing = await opened(browser, `${service.address}/docs/operations/draw_tyre`);
  await drawing.page.getByRole("button", { name: "Run" }).click();
  const picture = drawing.page.locator(".answer img");
  await picture.waitFor();
  assert.ok(await picture.evaluate((img) => /** @type {HTMLImageElement} */ (img).decode().then(() => /** @type {HTMLImageElement} */ (img).naturalWidth > 0)));
  await accessible(drawing.page);
  await drawing.end();
});

test("a word leads to the page that has it, by keyboard", async () => {
  const { page, end } = await opened(browser, `${service.address}/docs`);
  const field = page.getByLabel("Search the documentation");
  await field.fill("house rules");
  await page.locator("#found li").first().waitFor();
  await accessible(page);
  await page.keyboard.press("ArrowDown");
  await page.keyboard.press("Enter");
  await page.waitForURL(/\/docs\/concepts\/house-rules$/);
  await page.getByLabel("Search the documentation").fill("xyzzy");
  await page.getByText("Nothing found").waitFor();
  await end();
});

test("with keys set the pages stay open, and a call asks for a key that this tab alone keeps", async () => {
  // The digest of the key "a-key-of-the-depot", as `mendgauge keys` would store it.
  const { createHash } = await import("node:crypto");
  const stored = `depot:${createHash("sha256").update("a-key-of-the-depot").digest("hex")}`;
  const locked = await started({ env: { MENDGAUGE_API_KEYS: stored } });
  try {
    const { page, end } = await opened(browser, `${locked.address}/docs/operations/check_repairability`);
    const example = page.locator(".example").first();
    await example.getByRole("button", { name: "Run" }).click();
    await page.getByLabel("API key").fill("a-key-of-the-depot");
    await accessible(page);
    await page.getByRole("button", { name: "Use this key" }).click();
    await example.getByText("200, answered").waitFor();
    const kept = await page.evaluate(() => [localStorage.length, document.cookie, Object.values(sessionStorage)]);
    assert.deepEqual(kept, [0, "", ["a-key-of-the-depot"]]);
    await end(/status of 401/);
  } finally {
    await locked.stop();
  }
});

test("a rulebook prints whole, without what is of no use on paper", async () => {
  const { page, end } = await opened(browser, `${service.address}/rulebooks/gb`);
  await page.emulateMedia({ media: "print" });
  assert.equal(await page.locator(".masthead").isVisible(), false);
  assert.equal(await page.locator("nav.beside").isVisible(), false);
  const pdf = await page.pdf({ format: "A4" });
  assert.ok(pdf.length > 20_000);
  await end();
});
