import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";
import { createStore } from "../../../pwa_assets/js/edges/storage/store.js";
import { start } from "../../../pwa_assets/js/settings/takeout.js";
import { emptyPhone, page } from "../browser.js";

const TODAY = "2026-03-02";
const SCREEN = `<template data-screen="data"><button data-act="save_page"></button><button data-act="save_table"></button>
  <button data-act="save_file"></button><p data-fault></p><p data-slot="code"></p><button data-act="code"></button>
  <button data-act="copy"></button><div data-leave><button data-act="leave"></button></div>
  <div data-ask><button data-act="ask_to_leave"></button><p data-fault hidden></p></div><p data-slot="asked" hidden></p></template>
  <main id="page"></main>`;
const clock = { now: () => Date.UTC(2026, 2, 2, 18), today: () => TODAY, zone: () => "Europe/Lisbon" };
const never = () => () => undefined;
/** @type {any} */
let store;
/** @type {HTMLElement} */
let root;
/** The language of the page. @type {string} */
let language;
const words = {
  say: (/** @type {string} */ key) => `${language} ${key}`,
  fill: (/** @type {string} */ key, /** @type {Record<string, any>} */ gaps) =>
    `${key} ${Object.values(gaps).join(" ")}`,
  plural: (/** @type {string} */ key, /** @type {number} */ n) => `${key} ${n}`,
  day: (/** @type {string} */ on) => on,
};

beforeEach(async () => {
  await emptyPhone();
  Object.defineProperty(globalThis, "location", { value: { host: "halfturn.example" }, configurable: true });
  language = "en";
  store = createStore(/** @type {any} */ (clock), () => assert.fail("no other window is open"));
  await store.setMeta("client", "ansgar0001");
});

/** Lets the storage answer, and what waits for it. */
async function settle() {
  for (let round = 0; round < 12; round += 1) await new Promise((resolve) => setTimeout(resolve, 5));
}

/** @param {any} [kept] the storage */
async function open(kept = store) {
  root = /** @type {any} */ ((await page(SCREEN)).querySelector("#page"));
  const edges = { store: kept, sync: { onChange: never }, clock, words, room: { isKept: async () => true } };
  start(root, /** @type {any} */ (edges));
  await settle();
}

const askedLine = () => /** @type {any} */ (root.querySelector('[data-slot="asked"]'));
const offer = () => /** @type {any} */ (root.querySelector("[data-ask]"));

async function ask() {
  offer().querySelector("button").click();
  await settle();
}

test("who asked to leave is told so, also in another language", async () => {
  await open();
  await ask();
  assert.deepEqual([askedLine().textContent, offer().hidden], [`leave.asked ${TODAY}`, true]);
  language = "es";
  await open();
  assert.deepEqual([askedLine().textContent, offer().hidden], [`leave.asked ${TODAY}`, true]);
});

test("who took the letter back may ask again", async () => {
  await open();
  await ask();
  const [{ id }] = await store.events();
  assert.equal(await store.takeBackLetter(id, TODAY), true);
  await settle();
  assert.deepEqual([askedLine().hidden, offer().hidden], [true, false]);
});

test("where the letter cannot be saved, the page says so beside the button", async () => {
  const addEvents = async () => {
    throw new Error("the disk is full");
  };
  await open({ ...store, addEvents });
  await ask();
  const fault = offer().querySelector("[data-fault]");
  assert.deepEqual([fault.hidden, fault.textContent, offer().hidden], [false, "en day.not_kept", false]);
});
