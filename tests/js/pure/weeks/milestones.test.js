import assert from "node:assert/strict";
import { test } from "node:test";
import { milestones, thenAndNow } from "../../../../pwa_assets/js/pure/weeks/milestones.js";

const FEWEST = 4;
/** @type {any[]} */
const BANDS = [
  { name: "settled", low: 0, high: 2 },
  { name: "tender", low: 3, high: 5 },
  { name: "flared", low: 6, high: 7 },
  { name: "sharp", low: 8, high: 10 },
];
const doseWith = (kg = 0, range = 1) => ({
  sessions: 1,
  sets: [{ movement: "palm_down", reps: 8, load_kg: kg, range }],
});

/** Days of the right arm, the first one numbered 1; each is a session with a calm morning unless it says otherwise. @param {any[]} all @returns {any[]} */
const course = (all) =>
  all.map(({ version = null, released = [], ...own }, at) => {
    const right = { morning: 1, worst: 1, isSharp: false, done: "enough", sessions: 1, dose: doseWith(), ...own };
    return { on: `d${at + 1}`, number: at + 1, loads: [], sessions: [], version, released, arms: { right } };
  });
const IDLE = { sessions: 0, dose: null, worst: null };
/** @param {any[]} all */
const linesOf = (all) =>
  milestones(course(all), ["right"], BANDS).map(({ number, kind, value, days }) => [number, kind, value, days]);

test("where mornings began and where they are is the middle of a week, and is not told before two weeks", () => {
  const mornings = [4, 4, 5, 3, 4, 6, 2, 3, 2, 2, 1, 2, 9, 2];
  const days = course(mornings.map((morning) => ({ morning })));
  assert.deepEqual(thenAndNow(days, "right", FEWEST), { first: 4, now: 2 });
  assert.equal(thenAndNow(days.slice(0, 13), "right", FEWEST), null);
});

test("a week with fewer than four reports says nothing", () => {
  const days = course(Array.from({ length: 20 }, (_, at) => ({ morning: at < 16 || at > 18 ? 2 : null })));
  assert.deepEqual(thenAndNow(days, "right", FEWEST), { first: 2, now: 2 });
  const silent = course(
    Array.from({ length: 20 }, (_, at) => ({ morning: at > 15 && at < 19 ? 2 : at < 7 ? 2 : null })),
  );
  assert.equal(thenAndNow(silent, "right", FEWEST), null);
});

test("a heavier weight is told once, and the first session is no news", () => {
  const all = [0.5, 0.5, 0, 1, 0.5, 1].map((kg) => ({ morning: 3, dose: doseWith(kg) }));
  assert.deepEqual(linesOf(all), [[4, "heavier", 1, 0]]);
});

test("a week of calm mornings counts only where every one was reported", () => {
  const mornings = [1, 1, 1, null, 2, 2, 2, 2, 2, 2, 2, 2];
  assert.deepEqual(linesOf(mornings.map((morning) => ({ morning }))), [[11, "calm_week", 2, 0]]);
});

test("a flare says how long no session followed, and whether less range did", () => {
  const eased = [{ morning: 3 }, { ...IDLE, morning: 6 }, { morning: 3, dose: doseWith(0, 0.75) }];
  assert.deepEqual(linesOf(eased), [[2, "flare_eased", 6, 1]]);
  assert.deepEqual(linesOf([{ morning: 3 }, { ...IDLE, morning: 6 }, { morning: 3 }]), [[2, "flare_rest", 6, 1]]);
  assert.deepEqual(linesOf([{ morning: 3 }, { ...IDLE, morning: 7 }]), [[2, "flare", 7, 0]]);
});

test("a flare in a session is followed by the days after it", () => {
  const all = [{ morning: 3, worst: 6 }, { ...IDLE, morning: 3 }, { ...IDLE, morning: 3 }, { morning: 3 }];
  assert.deepEqual(linesOf(all), [[1, "flare_rest", 6, 2]]);
});

test("an 8 is a stop and no flare; the return is told", () => {
  const all = [
    { morning: 3, worst: 8, isSharp: true },
    { ...IDLE, morning: 3 },
    { morning: 3, released: ["right"] },
  ];
  assert.deepEqual(linesOf(all), [
    [3, "released", 0, 0],
    [1, "stopped", 0, 0],
  ]);
});

test("the whole range is told when it comes back, not while it never went", () => {
  const all = [1, 1, 0.75, 0.75, 1, 1].map((range) => ({ morning: 3, dose: doseWith(0, range) }));
  assert.deepEqual(linesOf(all), [[5, "full_range", 0, 0]]);
});

test("a week away is told on the day of the way back; six days are not", () => {
  const idle = (/** @type {number} */ count) => Array.from({ length: count }, () => ({ ...IDLE, morning: null }));
  assert.deepEqual(linesOf([{ morning: 3 }, ...idle(7), { morning: 3 }]), [[9, "away", 0, 7]]);
  assert.deepEqual(linesOf([{ morning: 3 }, ...idle(6), { morning: 3 }]), []);
  assert.deepEqual(linesOf([{ morning: 3 }, ...idle(9)]), []);
});

test("a later version is told, the first one is not", () => {
  assert.deepEqual(
    linesOf([
      { morning: 3, version: 1 },
      { morning: 3, version: 2 },
    ]),
    [[2, "version", 2, 0]],
  );
});
