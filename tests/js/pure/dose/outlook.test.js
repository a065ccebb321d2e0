import assert from "node:assert/strict";
import { test } from "node:test";
import { branchesOf } from "../../../../pwa_assets/js/pure/dose/outlook.js";
import { armDays } from "../../../../pwa_assets/js/pure/dose/today.js";
import { anchorAt, BUNDLE, event, RESTING, SECOND, sessionBody, sets } from "../../small_bundle.js";

const TODAY = "2026-03-02";

/** @param {any[]} [sessions] what is said of the right arm in each @param {number} [row] */
function dayOf(sessions = [], row = SECOND) {
  const events = sessions.map((own, i) => event(i, "session_finished", TODAY, sessionBody({ right: own })));
  return armDays(BUNDLE, { right: anchorAt(row, TODAY, [1, 1, 1]) }, events, TODAY)[0];
}

/** Each line in short: its dose and its ratings. @param {any} day */
const lines = (day) =>
  branchesOf(BUNDLE, day).map(({ dose, during, morning, orNoReport }) => [
    dose.mode === "training" ? dose.sets[0].reps : dose.mode,
    during && [during.low, during.high],
    morning && [morning.low, morning.high],
    orNoReport,
  ]);
const [STOP, REST] = ["held", "resting"];

test("if a session is still offered, 'enough' is assumed and every rating is possible", () => {
  assert.deepEqual(lines(dayOf()), [
    [12, [0, 3], [0, 2], false],
    [10, [4, 5], null, true],
    [REST, [6, 7], [3, 7], false],
    [STOP, [8, 10], [8, 10], false],
  ]);
});

test("after a whole session only the morning is open", () => {
  assert.deepEqual(lines(dayOf([{ worst: 2 }])), [
    [12, null, [0, 2], false],
    [REST, null, [3, 7], false],
    [STOP, null, [8, 10], false],
  ]);
});

test("after half a session the best branch is the same dose", () => {
  assert.deepEqual(lines(dayOf([{ worst: 2, sets: sets(500) }]))[0], [10, null, [0, 2], false]);
});

test("after a session without a rating, every rating from today's worst upwards is possible", () => {
  const rating = (/** @type {any[]} */ sessions) => lines({ ...dayOf(sessions), isRating: true });
  assert.deepEqual(rating([{ worst: 0 }])[0], [12, [0, 3], [0, 2], false]);
  assert.deepEqual(rating([{ worst: 0, sets: sets(500) }])[0], [10, [0, 5], [0, 2], false]);
  assert.deepEqual(rating([{ worst: 4 }])[0], [10, [4, 5], [0, 2], false]);
});

test("on a day without a session only the morning matters, and a missing report is not mentioned", () => {
  assert.deepEqual(lines(dayOf([], RESTING)), [
    [12, null, [0, 2], false],
    [REST, null, [3, 7], false],
    [STOP, null, [8, 10], false],
  ]);
});
