import assert from "node:assert/strict";
import { test } from "node:test";
import { start as openScreening } from "../../../pwa_assets/js/arriving/screening.js";
import { draw, seen } from "../../../pwa_assets/js/day/arriving.js";
import { startOf } from "../../../pwa_assets/js/pure/arriving/start.js";
import { page } from "../browser.js";
import { BUNDLE, event } from "../small_bundle.js";

const DAY = "2026-03-08";
const SIGNS = [
  { id: "chest", level: "emergency", is_whole: true, holds: true, text: "" },
  { id: "locks", level: "soon", is_whole: false, holds: true, text: "" },
];
const WITH_SIGNS = /** @type {any} */ ({ ...BUNDLE, warnings: SIGNS });
const ASKED = { waits_for: /** @type {const} */ ("screening"), asks_intake: false };
const STOPPED = [
  event(1, "screening_answered", DAY, { asked_list: "ab", reached: "soon", signs: ["locks"] }),
  event(2, "warning_raised", DAY, { sign: "locks", arms: ["right"] }),
];

/** What the day page knows. @param {boolean[]} held whether the right and the left arm are held @param {any} [bundle] @param {any[]} [events] @returns {any} */
const context = (held, bundle = WITH_SIGNS, events = STOPPED) => ({
  start: startOf(bundle, events, ASKED),
  bundle,
  events,
  days: held.map((isHeldNow) => ({ isHeldNow })),
});

/** @param {any} shown @returns {Promise<string[]>} where the page of the questions goes instead of asking */
async function openingOf(shown) {
  /** @type {string[]} */
  const went = [];
  const root = await page("<main></main>");
  const edges = { store: { snapshot: async () => shown }, go: (/** @type {string} */ hash) => went.push(hash) };
  openScreening(/** @type {any} */ (root.querySelector("main")), /** @type {any} */ (edges));
  await new Promise((done) => setImmediate(done));
  return went;
}

test("while one arm is held nobody is said to let the client go on", () => {
  assert.equal(seen(context([true, false])), null);
  assert.equal(seen(context([true, true])), null);
});

test("once nothing is held the questions that are left are offered", () => {
  assert.equal(seen(context([false, false]))?.kind, "screening_goes_on");
});

test("a client whose arm is held cannot open the questions by their address", async () => {
  assert.deepEqual(await openingOf(context([true, true])), ["#day"]);
});

test("before a routine a sign stops the questions too", async () => {
  const stopped = context([], null);
  assert.equal(seen(stopped)?.kind, "start_stopped");
  assert.deepEqual(await openingOf(stopped), ["#day"]);
});

test("the title names the practitioner, or says 'your practitioner' before a name is known", async () => {
  const waits = event(3, "screening_answered", DAY, { asked_list: "ab", reached: "ask_first", signs: ["heart"] });
  const title = async (/** @type {any} */ practitioner) => {
    const root =
      await page(`<template data-piece="start_waits"><h2 data-slot="title"></h2><ul data-named></ul></template>
      <template data-piece="screening_named"><li data-slot="text"></li></template><div id="part"><div data-body></div></div>`);
    const part = /** @type {any} */ (root.querySelector("#part"));
    const words = {
      say: (/** @type {string} */ key) => key,
      fill: (/** @type {string} */ key, /** @type {any} */ gaps) => `${key} ${gaps.name}`,
    };
    draw(part, { ...context([false], WITH_SIGNS, [waits]), practitioner }, /** @type {any} */ ({ words }));
    return part.querySelector("h2").textContent;
  };
  assert.equal(await title({ name: "Hedda Marrow" }), "start.waits Hedda Marrow");
  assert.equal(await title(undefined), "start.waits_unnamed");
});
