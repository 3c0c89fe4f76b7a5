// What the tests of a file share: the service, a browser and the texts of the pages, from before the first to after the last.
import { after, before } from "node:test";
import { launched } from "./browser.mjs";
import { textsOf } from "./phrases.mjs";
import { started } from "./service.mjs";

/** @type {Awaited<ReturnType<typeof started>>} */ export let service;
/** @type {import("playwright-core").Browser} */ export let browser;
/** @type {Awaited<ReturnType<typeof textsOf>>} */ export let texts;

before(async () => {
  service = await started();
  browser = await launched();
  texts = await textsOf(service.address);
});
after(async () => {
  await browser.close();
  await service.stop();
});
