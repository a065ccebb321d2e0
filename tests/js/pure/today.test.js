import assert from "node:assert/strict";
import { test } from "node:test";
import { armDays, joinSheets, planOf, tomorrowIf } from "../../../pwa_assets/js/pure/today.js";
import { step } from "../builders.js";

const TODAY = "2026-03-02";
const CALM = { sessions: 1, during: 2, morning: 1, sharp: false };
const [TRAINING, RESTING, HELD] = [0, 1, 2];

/** The smallest bundle there can be: a training day, a resting one, a hold; only a flare or sharp pain leaves training. */
const BUNDLE = {
  arms: ["right", "left"],
  hash: "ab12",
  routine: { version: 3 },
  cube: "s".repeat(13 * 12 * 12),
  ends_day: ["sharp", "flared"],
  almanac: {
    responses: ["settled", "flared", "sharp"],
    // Told by distance: settled leads to training, flared to rest, sharp to the hold; a hold stays.
    next: [
      [TRAINING, 0, HELD],
      [RESTING, 0, 1],
      [HELD, 0, 0],
    ],
    why: [0, 0, 0],
    whys: [[["climb"], ["rest-and-ease"], ["stop"]]],
    dose: [0, 1, 2],
    mode: ["training", "resting", "held"],
    released: [TRAINING],
  },
  doses: [
    { mode: "training", sessions: 2, sheet: 0 },
    { mode: "resting", sessions: 0, sheet: null },
    { mode: "held", sessions: 0, sheet: null },
  ],
  sheets: [[0, 1]],
  steps: [step("hold", 30), step("done", 0)],
  change_arm: { right: step("change_arm", 15), left: step("change_arm", 15) },
};

/** @param {number} state */
const anchor = (state) => ({
  on: TODAY,
  before: null,
  states: [state, state, state],
  why: [["climb"], ["climb"], ["stop"]],
});

/** @param {number} seq @param {string} arm @param {object} [own] @param {object} [other] */
function finished(seq, arm, own = {}, other = {}) {
  const body = { arms: { [arm]: { worst: 2, sharp: false, ...own } }, ...other };
  return { id: `id-${seq}`, kind: "session_finished", v: 1, on: TODAY, at: "", zone: "", seq, body };
}

/** @param {any[]} events @param {any} [anchors] */
const days = (events, anchors = { right: anchor(TRAINING), left: anchor(TRAINING) }) =>
  armDays(BUNDLE, anchors, events, TODAY);

test("each arm is offered its sessions until they are done, whatever the other does", () => {
  const told = (/** @type {any[]} */ events) =>
    days(events).map(({ arm, done, asked, isOffered }) => [arm, done, asked, isOffered]);
  assert.deepEqual(told([]), [
    ["right", 0, 2, true],
    ["left", 0, 2, true],
  ]);
  assert.deepEqual(told([finished(1, "right"), finished(2, "right"), finished(3, "left")]), [
    ["right", 2, 2, false],
    ["left", 1, 2, true],
  ]);
});

test("a warm-up before sport is asked besides the day's sessions", () => {
  const [right] = days([finished(1, "right", {}, { ways: ["before_sport"] })]);
  assert.deepEqual([right.done, right.asked, right.isOffered], [1, 3, true]);
});

test("after sharp pain the arm is held at once and the other arm goes on", () => {
  const [right, left] = days([finished(1, "right", { sharp: true })]);
  assert.deepEqual([right.isHeldNow, right.hasEnded, right.isOffered], [true, true, false]);
  assert.deepEqual([left.isHeldNow, left.isOffered], [false, true]);
});

test("an arm that rests, is held, or has no anchor is offered nothing", () => {
  const told = days([], { right: anchor(RESTING) });
  assert.deepEqual(
    told.map(({ arm, asked, isOffered }) => [arm, asked, isOffered]),
    [["right", 0, false]],
  );
  assert.equal(days([], { left: anchor(HELD) })[0].isHeldNow, true);
});

test("the session joins the arms that are offered one, and there is none where none is", () => {
  const plan = planOf(BUNDLE, days([]), TODAY);
  assert.deepEqual([plan?.on, plan?.routineVersion, plan?.bundleHash], [TODAY, 3, "ab12"]);
  assert.deepEqual(
    plan?.steps.map(({ kind, arm }) => `${arm} ${kind}`),
    ["right hold", "left change_arm", "left hold", "left done"],
  );
  const one = planOf(BUNDLE, days([finished(1, "right"), finished(2, "right")]), TODAY);
  assert.deepEqual(
    one?.steps.map(({ kind, arm }) => `${arm} ${kind}`),
    ["left hold", "left done"],
  );
  assert.equal(planOf(BUNDLE, days([], { right: anchor(HELD) }), TODAY), null);
});

test("the plan knows whether this is the day's first session, and the one after sport", () => {
  const told = (/** @type {any[]} */ events) =>
    planOf(BUNDLE, days(events), TODAY)?.arms.map(({ isFirst, isAfterSport }) => [isFirst, isAfterSport]);
  assert.deepEqual(told([]), [
    [true, false],
    [true, false],
  ]);
  const warmed = ["right", "left"].map((arm, i) => finished(i, arm, {}, { ways: ["before_sport"] }));
  assert.deepEqual(told(warmed), [
    [false, true],
    [false, true],
  ]);
});

test("sheets are joined with one end, and each step knows its arm", () => {
  const sheet = [step("hold", 30), step("done", 0)];
  const joined = joinSheets({ change_arm: {} }, [
    { arm: "right", sheet },
    { arm: "left", sheet },
  ]);
  assert.deepEqual(
    joined.map(({ kind, arm }) => [kind, arm]),
    [
      ["hold", "right"],
      ["hold", "left"],
      ["done", "left"],
    ],
  );
});

test("tomorrow is looked up for a report that is only supposed", () => {
  const [right] = days([]);
  const told = (/** @type {object} */ facts) => tomorrowIf(BUNDLE, right, { ...CALM, ...facts });
  assert.deepEqual([told({}).dose.mode, told({}).why], ["training", ["climb"]]);
  assert.deepEqual(
    [told({ sharp: true }).response, told({ sharp: true }).dose.mode, told({ sharp: true }).why],
    ["sharp", "held", ["stop"]],
  );
});
