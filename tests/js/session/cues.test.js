import assert from "node:assert/strict";
import { test } from "node:test";
import { SessionCues } from "../../../pwa_assets/js/session/cues.js";

const STEPS = /** @type {any[]} */ ([
  { kind: "prepare", seconds: 10, reps: 0 },
  { kind: "reps", seconds: 20, reps: 5, up: 2, down: 2 },
]);
const THIRD_REP_MS = 10_000 + 2 * 4000;

/** @param {number} shown step @returns {any[]} what is told between just before the third rep and just after it */
function toldWhile(shown) {
  /** @type {any[]} */
  const announcements = [];
  const view = {
    announce: (/** @type {any[]} */ ...announcement) => announcements.push(announcement),
    felt: () => undefined,
  };
  const cues = new SessionCues(STEPS, /** @type {any} */ (view), /** @type {any} */ (null));
  cues.jump(THIRD_REP_MS - 100);
  cues.pass(THIRD_REP_MS + 100, true, shown);
  return announcements;
}

test("the last reps of the step on the screen are counted as they begin", () => {
  assert.deepEqual(toldWhile(1), [["count", 1, 3]]);
});

test("nothing is told of a step that is not on the screen yet", () => {
  assert.deepEqual(toldWhile(0), []);
});
