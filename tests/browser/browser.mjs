// A headless Chromium, and pages in it that note what they must not do.
import assert from "node:assert/strict";
import { existsSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { chromium } from "playwright-core";

const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const PROGRAM = process.env.CHROMIUM ?? ["/usr/bin/chromium", "/usr/bin/chromium-browser"].find(existsSync);
const QUIET = ["--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"];

/** Start the browser. As root it cannot have its own sandbox. */
export function launched() {
  assert.ok(PROGRAM, "Chromium is not installed (Debian: apt-get install chromium)");
  const args = process.getuid?.() === 0 ? [...QUIET, "--no-sandbox"] : QUIET;
  return chromium.launch({ executablePath: PROGRAM, args });
}

/**
 * Open a page that notes its errors and every address it asks beyond the service.
 * @param {import("playwright-core").Browser} browser @param {string} address
 * @param {import("playwright-core").BrowserContextOptions} [options]
 */
export async function opened(browser, address, options = {}) {
  const context = await browser.newContext({ viewport: { width: 1280, height: 900 }, ...options });
  const page = await context.newPage();
  page.setDefaultTimeout(20_000);
  /** @type {string[]} */
  const faults = [];
  page.on("console", (message) => {
    if (["error", "warning"].includes(message.type())) faults.push(`${message.type()}: ${message.text()}`);
  });
  page.on("pageerror", (error) => faults.push(`error: ${error}`));
  page.on("request", (request) => {
    const { protocol, origin } = new URL(request.url());
    if (protocol !== "blob:" && origin !== new URL(address).origin) faults.push(`asked ${request.url()}`);
  });
  await page.goto(address);
  return {
    page,
    /** Hold the page to no error, no warning and no request elsewhere; `known` are those that the test brought about.
     * @param {RegExp} [known] */
    async end(known) {
      assert.deepEqual(known ? faults.filter((fault) => !known.test(fault)) : faults, []);
      await context.close();
    },
  };
}

/** Hold a page, as it is now, to everything that axe-core checks. @param {import("playwright-core").Page} page */
export async function accessible(page) {
  // The policy of the page lets no script in; the browser's own evaluation is not held to it.
  await page.evaluate(AXE);
  const { violations } = await page.evaluate(() => /** @type {any} */ (globalThis).axe.run(document, { resultTypes: ["violations"] }));
  const found = violations.map((/** @type {any} */ one) => `${one.id}: ${one.help}: ${one.nodes.slice(0, 3).map((/** @type {any} */ node) => node.html.slice(0, 160)).join(" | ")}`);
  assert.deepEqual(found, []);
}

/**
 * Hold a page to no sideways scrolling, and to controls that a gloved finger hits.
 * @param {import("playwright-core").Page} page @param {string} [controls]
 */
export async function fits(page, controls = "button, select, input, summary, a, .choices label") {
  const [wide, screen] = await page.evaluate(() => [document.documentElement.scrollWidth, innerWidth]);
  assert.ok(Number(wide) <= Number(screen), `${wide} px wide on a screen of ${screen} px`);
  const small = await page.evaluate(
    (controls) => [...document.querySelectorAll(controls)]
      .filter((one) => one.checkVisibility() && !one.matches(".skip, .tick input, .choices input"))
      .map((one) => ({ what: one.outerHTML.slice(0, 120), height: one.getBoundingClientRect().height }))
      .filter(({ height }) => height > 0 && height < 44),
    controls,
  );
  assert.deepEqual(small, []);
}
