import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";
import { createStore } from "../../../pwa_assets/js/edges/storage/store.js";
import { wireFeed } from "../../../pwa_assets/js/settings/feed.js";
import { emptyPhone, page } from "../browser.js";

const SCREEN = `<main id="page"><section data-feed><p data-slot="feed_fault" hidden></p><div data-shown hidden><p data-slot="address"></p>
  <button data-act="copy_feed"></button><button data-act="end_feed"></button><p data-slot="copied"></p></div>
  <button data-act="feed" data-slot="feed_act"></button></section></main>`;
const clock = { now: () => Date.UTC(2026, 2, 2, 18), today: () => "2026-03-02", zone: () => "Europe/Lisbon" };
const words = { say: String };
/** @type {any} */
let store;
/** @type {HTMLElement} */
let root;

beforeEach(async () => {
  await emptyPhone();
  Object.defineProperty(globalThis, "location", { value: { origin: "https://halfturn.example" }, configurable: true });
  store = createStore(/** @type {any} */ (clock), () => assert.fail("no other window is open"));
});

/** @param {(key: string) => Promise<boolean>} feedEnded */
async function open(feedEnded) {
  root = /** @type {any} */ ((await page(SCREEN)).querySelector("#page"));
  const edges = /** @type {any} */ ({ store, words, server: { feedEnded } });
  wireFeed(root, edges, () => ({}), new AbortController().signal);
  for (let round = 0; round < 12; round += 1) await new Promise((resolve) => setTimeout(resolve, 5));
}

const fault = () => /** @type {any} */ (root.querySelector('[data-slot="feed_fault"]'));
const shown = () => /** @type {any} */ (root.querySelector("[data-shown]"));

test("an address that has ended elsewhere is shown no more, and the page says so", async () => {
  await store.setMeta("feedKey", "old");
  await open(async (key) => key === "old");
  assert.deepEqual([fault().hidden, fault().textContent, shown().hidden], [false, "feed.ended", true]);
  assert.equal(await store.getMeta("feedKey"), null);
});

test("an address that lives stays, and so does one that nothing is known of", async () => {
  await store.setMeta("feedKey", "new");
  await open(async (key) => key === "old");
  assert.deepEqual([fault().hidden, shown().hidden], [true, false]);
  assert.equal(shown().querySelector("p").textContent, "https://halfturn.example/calendar/new.ics");
});

test("a phone without an address asks nothing", async () => {
  await open(async () => assert.fail("asked"));
  assert.deepEqual([fault().hidden, shown().hidden], [true, true]);
});
