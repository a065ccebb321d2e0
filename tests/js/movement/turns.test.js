import assert from "node:assert/strict";
import { test } from "node:test";
import { page } from "../browser.js";

const body = await page("<div id='one'></div><div id='two'></div>");
const { createTurns, turnsOf } = await import("../../../pwa_assets/js/movement/turns.js");
const { drawnFor } = await import("../../../pwa_assets/js/pure/drawing/drawn_movements.js");

const LIFT = /** @type {any} */ ({
  kind: "reps",
  movement: "palm_down",
  seconds: 60,
  reps: 12,
  up: 2,
  down: 3,
  range: 1,
});
const HOLD = /** @type {any} */ ({
  kind: "hold",
  movement: "stretch_palm_down",
  seconds: 45,
  reps: 0,
  up: 0,
  down: 0,
  range: 1,
});
const subject = { drawn: /** @type {any} */ (drawnFor("palm_down")), arm: "left", weighted: false, range: 1 };

/** Frames on a clock of the test. */
const frames = /** @type {((now: number) => void)[]} */ ([]);
Object.assign(globalThis, {
  requestAnimationFrame: (/** @type {(now: number) => void} */ look) => frames.push(look),
  cancelAnimationFrame: (/** @type {number} */ id) => frames.splice(id - 1, 1),
});
const frameAt = (/** @type {number} */ now) => frames.pop()?.(now);
const hand = (/** @type {Element|null} */ holder) => holder?.querySelector("svg")?.outerHTML;

test("a lift is shown three times, each as long as in the session", () => {
  assert.deepEqual(turnsOf(LIFT), { ...LIFT, reps: 3, seconds: 15 });
});

test("a stretch goes into its hold and stays there a moment", () => {
  const { kind, reps, seconds } = turnsOf(HOLD);
  assert.deepEqual([kind, reps, seconds], ["hold", 0, 6]);
});

test("the hand moves while it plays, and rests where it began once the turns are over", () => {
  const holder = /** @type {HTMLElement} */ (body.querySelector("#one"));
  const turns = createTurns(holder, subject, turnsOf(LIFT), false);
  const still = hand(holder);
  let isDone = false;
  turns.play(() => {
    isDone = true;
  });
  frameAt(1000);
  frameAt(1800);
  assert.notEqual(hand(holder), still);
  frameAt(15_900);
  assert.equal(isDone, false);
  frameAt(16_100);
  assert.equal(isDone, true);
  assert.equal(hand(holder), still);
  assert.equal(frames.length, 0);
});

test("for less motion there are three pictures, each in another position", () => {
  const holder = /** @type {HTMLElement} */ (body.querySelector("#two"));
  createTurns(holder, subject, turnsOf(LIFT), true);
  const shown = [...holder.querySelectorAll("svg")].map(({ outerHTML }) => outerHTML);
  assert.equal(new Set(shown).size, 3);
});
