// What the tests look for on the page: the words of the service, as it serves them.

/** @param {string} address @param {string} [language] */
export async function textsOf(address, language = "en-GB") {
  const response = await fetch(`${address}/page/texts.${language}.json`);
  const form = /** @type {any} */ (await response.json());
  return {
    ...form,
    /** The question of a field. @param {string} pattern @returns {string} */
    asks: (pattern) => form.fields[pattern].asks,
    /** A text of the page. @param {string} key @returns {string} */
    t: (key) => form.page.texts[key],
  };
}

/** A case that a bench has settled: it may be repaired. */
export const SOUND = {
  rulebook: "gb",
  assessed_on: "2026-11-24",
  reference: "Tarn Lane van 7",
  vehicle: { kind: "car", gross_mass_kg: 1900 },
  position: { axle: "rear" },
  tyre: { marking: "205/55R16 91V", date_code: "2323", tread_depth_mm: 5, traits: { complete: true }, maker_policy: { repair: "permitted" } },
  injuries: [{ region: "tread", depth: "through", across_mm: 30, measured_from: "outside", diameter_mm: { low: 3.5, high: 4.5 }, stage: "found", lean_deg: 5 }],
  earlier_repairs: [],
  inspection: { complete: true },
  history: { complete: true, losing_air: false },
};
