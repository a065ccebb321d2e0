import assert from "node:assert/strict";
import { test } from "node:test";
import { addDays } from "../../../../pwa_assets/js/pure/calendar/local_day.js";
import { activitiesClosing, armClosing } from "../../../../pwa_assets/js/pure/weeks/closing.js";

const FIRST = "2026-03-01";
const on = (/** @type {number} */ number) => addDays(FIRST, number - 1);
const doseOf = (/** @type {number} */ reps) => ({
  sessions: 1,
  sets: [{ movement: "palm_down", reps, load_kg: 0, range: 1 }],
});
const IDLE = { sessions: 0, dose: null, workAskedJ: null };

/** Days of the right arm; each has a calm morning and a session unless it says otherwise. @param {any[]} all @returns {any[]} */
const course = (all) =>
  all.map(({ released = [], ...own }, at) => {
    const right = { morning: 1, isSharp: false, sessions: 1, dose: doseOf(8 + at), workAskedJ: 10 + at, ...own };
    return { on: on(at + 1), number: at + 1, released, arms: { right } };
  });
/** @param {(number|null)[]} ratings */
const mornings = (ratings) => armClosing(course(ratings.map((morning) => ({ morning }))), "right").mornings;

test("mornings at first and at last are the middle ones of seven that were told, however far apart those lie", () => {
  const early = [null, 4, 4, 5, 3, 4, 6, 2];
  const late = [2, null, 2, null, 1, null, 2, null, 1, null, 1, null, 3];
  const found = mornings([...early, ...Array(20).fill(4), ...late]);
  assert.deepEqual(found, [
    { middle: 4, from: on(2), to: on(8) },
    { middle: 2, from: on(29), to: on(41) },
  ]);
});

test("no morning counts as both first and last, and fewer than four say nothing", () => {
  assert.deepEqual(mornings([5, 5, 5, 5, 1, 1, 1, 1, 1]), [
    { middle: 5, from: on(1), to: on(4) },
    { middle: 1, from: on(6), to: on(9) },
  ]);
  assert.equal(mornings([5, 5, 5, 5, 1, 1, 1]), null);
});

test("what was asked is that of the first and the last day whose session tells it", () => {
  const days = course([IDLE, {}, {}, IDLE, {}, { ...IDLE, sessions: 1 }]);
  const { doses, sessions, days: count } = armClosing(days, "right");
  const [first, last] = doses ?? [];
  assert.deepEqual([first?.on, first?.dose.sets[0].reps, first?.workJ], [on(2), 9, 11]);
  assert.deepEqual([last?.on, last?.dose.sets[0].reps, last?.workJ], [on(5), 12, 14]);
  assert.deepEqual([sessions, count], [4, 4]);
  assert.equal(armClosing(course([IDLE]), "right").doses, null);
});

test("a hold is told with its days, and one that lasts has no end", () => {
  const stop = { isSharp: true };
  const days = course([{}, stop, stop, IDLE, { released: ["right"] }, {}, { ...stop, released: ["right"] }, IDLE]);
  assert.deepEqual(armClosing(days, "right").holds, [
    { from: on(2), to: on(4) },
    { from: on(7), to: null },
  ]);
});

test("each activity is told with its first and its last rating up to the end", () => {
  const rating = (/** @type {number} */ day, /** @type {string} */ activity, /** @type {number} */ value) => ({
    on: on(day),
    activity,
    rating: value,
  });
  const ratings = [rating(1, "kettle", 3), rating(1, "key", 5), rating(8, "kettle", 6), rating(20, "kettle", 9)];
  assert.deepEqual(activitiesClosing(ratings, on(15)), [
    { activity: "kettle", first: ratings[0], last: ratings[2] },
    { activity: "key", first: ratings[1], last: null },
  ]);
});
