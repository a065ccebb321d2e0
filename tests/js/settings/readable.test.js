import assert from "node:assert/strict";
import { test } from "node:test";
import { readablePage } from "../../../pwa_assets/js/settings/readable.js";
import { page } from "../browser.js";
import { event } from "../small_bundle.js";

const PIECES = `
  <template data-piece="data_page"><h1></h1><table><tbody></tbody></table></template>
  <template data-piece="data_row"><table><tbody><tr><td data-slot="day"></td><td data-slot="noted"></td></tr></tbody></table></template>`;
const words = {
  say: (/** @type {string} */ key) => key,
  fill: (/** @type {string} */ key, /** @type {Record<string, any>} */ gaps) =>
    `${key}(${Object.values(gaps).join(" ")})`,
  list: (/** @type {string[]} */ items) => items.join(" "),
  date: String,
  has: () => true,
};

/** @param {any[]} events @returns {Promise<string>} what the page says of the one day */
async function saidOf(events) {
  await page(PIECES);
  const { XMLSerializer } = /** @type {any} */ (window);
  Object.defineProperty(globalThis, "XMLSerializer", { value: XMLSerializer, configurable: true });
  const kept = events.map((each) => ({ event: each, state: "sent" }));
  const text = readablePage(kept, /** @type {any} */ (words), "");
  return /<td data-slot="noted">(.*?)<\/td>/.exec(text)?.[1] ?? "";
}

/** @param {number} seq @param {number} pain */
const morning = (seq, pain) => event(seq, "morning_reported", "2026-03-09", { arms: { right: { pain } } });
/** @param {number} seq @param {any} target @param {any} body */
const corrected = (seq, target, body) => event(seq, "entry_corrected", "2026-03-09", { replaces: target.id, body });

test("what was corrected reads as it does now, and what was taken back is marked", async () => {
  const [wrong, copy] = [morning(1, 8), morning(2, 3)];
  assert.equal(await saidOf([wrong]), "data.morning(data.pain(arm.right 8))");
  assert.equal(
    await saidOf([wrong, corrected(3, wrong, { arms: { right: { pain: 1 } } })]),
    "data.corrected(data.morning(data.pain(arm.right 1)))",
  );
  assert.equal(await saidOf([copy, corrected(4, copy, null)]), "data.withdrawn(data.morning(data.pain(arm.right 3)))");
});
