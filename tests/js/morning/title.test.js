import assert from "node:assert/strict";
import { test } from "node:test";
import { start } from "../../../pwa_assets/js/morning/page.js";
import { page } from "../browser.js";
import { BUNDLE, event } from "../small_bundle.js";

const TODAY = "2026-03-09";
const SCREEN = `<template data-screen="morning"><h1 data-slot="title"></h1><p data-slot="about"></p><section data-body></section></template>
  <template data-piece="morning_form"><form><div data-arms></div><p data-fault></p></form></template><main id="page"></main>`;
const words = {
  say: (/** @type {string} */ key) => key,
  fill: (/** @type {string} */ key, /** @type {Record<string, any>} */ gaps) =>
    `${key} ${Object.values(gaps).join(" ")}`,
  day: String,
};
const EVENTS = [event(1, "routine_received", "2026-03-01", { version: 1 }), report(2, "2026-03-07"), report(3, TODAY)];

/** @param {number} seq @param {string} on */
function report(seq, on) {
  return event(seq, "morning_reported", on, { arms: { right: { pain: 1 } } });
}

/** @param {string} hash @returns {Promise<string>} the title of the tab */
async function titleAt(hash) {
  const root = /** @type {any} */ ((await page(SCREEN)).querySelector("#page"));
  Object.defineProperty(globalThis, "location", { value: { hash }, configurable: true });
  document.title = "as the address says";
  const bundle = { ...BUNDLE, arms: [], asks: { late: 3, away: 2, long_away: 7 } };
  const anchors = { right: { on: "2026-03-06" } };
  const snapshot = async () => ({ today: TODAY, bundle, anchors, events: EVENTS, days: [] });
  const go = (/** @type {string} */ to) => assert.fail(`sent to ${to}`);
  start(root, /** @type {any} */ ({ words, go, store: { snapshot }, clock: { today: () => TODAY } }));
  await new Promise((resolve) => setImmediate(resolve));
  return document.title;
}

test("the title of the tab names an earlier morning, told late or corrected", async () => {
  assert.equal(await titleAt("#morning?2026-03-08"), "title title.morning_on 2026-03-08");
  assert.equal(await titleAt("#morning?2026-03-07"), "title title.morning_on 2026-03-07");
  assert.equal(await titleAt("#morning"), "as the address says");
});
