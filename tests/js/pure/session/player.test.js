import assert from "node:assert/strict";
import { test } from "node:test";
import {
  happen,
  leadLeft,
  newSession,
  placeAt,
  settle,
  totalMs,
  withLastGap,
} from "../../../../pwa_assets/js/pure/session/player.js";
import { reps, shortSession, step } from "../../builders.js";

/** @typedef {import("../../../../pwa_assets/js/pure/session/player.js").Happening} Happening */

const STEPS = shortSession();
const [REPS, HOLD] = [1, 3];
const LONG_AFTER = 1_000_000_000;

/** @param {Happening[]} happenings @param {import("../../builders.js").Step[]} [steps] */
const played = (happenings, steps = STEPS) =>
  happenings.reduce((session, happening) => happen(steps, session, happening), newSession());

/** @param {Happening["kind"]} kind @param {number} mono @param {object} [other] */
const at = (kind, mono, other = {}) => /** @type {Happening} */ ({ kind, mono, ...other });

test("time moves only while the session runs", () => {
  assert.equal(placeAt(STEPS, newSession(), 5000), 0);
  const running = played([at("start", 1000)]);
  assert.equal(placeAt(STEPS, running, 4000), 3000);
  const paused = happen(STEPS, running, at("pause", 4000));
  assert.deepEqual([paused.status, placeAt(STEPS, paused, LONG_AFTER)], ["paused", 3000]);
  const resumed = happen(STEPS, paused, at("resume", 100_000));
  assert.deepEqual([placeAt(STEPS, resumed, 101_000), settle(STEPS, resumed, 101_000).workedMs], [4000, 4000]);
});

test("a resumed session stands still for its lead", () => {
  const resumed = played([at("start", 0), at("pause", 4000), at("resume", 50_000, { leadMs: 3000 })]);
  assert.deepEqual([leadLeft(resumed, 51_000), placeAt(STEPS, resumed, 51_000)], [2000, 4000]);
  assert.deepEqual([leadLeft(resumed, 53_500), placeAt(STEPS, resumed, 53_500)], [0, 4500]);
  assert.deepEqual(happen(STEPS, resumed, at("pause", 52_000)).atMs, 4000);
});

test("a second pause, start or resume changes nothing", () => {
  const once = played([at("start", 0), at("pause", 4000)]);
  assert.deepEqual(happen(STEPS, once, at("pause", 9000)), once);
  const on = happen(STEPS, once, at("resume", 20_000));
  assert.equal(placeAt(STEPS, happen(STEPS, on, at("resume", 21_000)), 22_000), 6000);
});

test("the session stays at its end and never runs past it", () => {
  const running = played([at("start", 0)]);
  const over = settle(STEPS, running, LONG_AFTER);
  assert.deepEqual([over.atMs, over.workedMs, over.done], [80_000, 80_000, [REPS, HOLD]]);
});

test("settling twice is settling once, and settling often adds nothing", () => {
  const running = played([at("start", 0)]);
  const once = settle(STEPS, running, 33_000);
  assert.deepEqual(settle(STEPS, once, 33_000), once);
  let often = running;
  for (let mono = 0; mono <= 33_000; mono += 250) often = settle(STEPS, often, mono);
  assert.deepEqual(often, once);
});

test("an earlier reading of the clock undoes nothing", () => {
  const settled = settle(STEPS, played([at("start", 0)]), 12_000);
  assert.deepEqual(settle(STEPS, settled, 11_000), settled);
});

test("a working step is begun once it runs and done only at its end", () => {
  const running = played([at("start", 0)]);
  assert.deepEqual(settle(STEPS, running, 10_000).begun, []);
  assert.deepEqual(settle(STEPS, running, 10_001).begun, [REPS]);
  assert.deepEqual(settle(STEPS, running, 29_999).done, []);
  assert.deepEqual(settle(STEPS, running, 30_000).done, [REPS]);
});

test("skipping goes to the next step and leaves what it skips undone", () => {
  const skipped = played([at("start", 0), at("skip", 1000), at("skip", 3000)]);
  assert.deepEqual([skipped.atMs, skipped.begun, skipped.done, skipped.workedMs], [30_000, [REPS], [], 3000]);
  assert.equal(happen(STEPS, skipped, at("skip", 3000, { to: HOLD })).atMs, 50_000);
});

test("back starts the step again, and just after its start the step before it", () => {
  const within = (/** @type {number} */ mono) => played([at("start", 0), at("back", mono)]).atMs;
  assert.equal(within(15_000), 10_000);
  assert.deepEqual([within(12_000), within(12_001)], [0, 10_000]);
  assert.equal(within(500), 0);
});

test("a step that is done again counts once, and the time spent on it twice", () => {
  const again = played([at("start", 0), at("skip", 0), at("back", 20_500), at("pause", 40_500)]);
  assert.deepEqual([again.done, again.begun, again.workedMs], [[REPS], [REPS], 40_500]);
});

test("reps are counted as they end, however often the session is settled", () => {
  const running = played([at("start", 0)]);
  const seen = [10_000, 14_999, 15_000, 24_999, 25_000, 29_999, 30_000, LONG_AFTER].map((mono) => {
    return settle(STEPS, running, mono).reps[REPS] ?? 0;
  });
  assert.deepEqual(seen, [0, 0, 1, 2, 3, 3, 4, 4]);
  let often = running;
  for (let mono = 0; mono <= 24_999; mono += 333) often = settle(STEPS, often, mono);
  assert.equal(often.reps[REPS], 2);
  assert.equal(settle(STEPS, running, LONG_AFTER).reps[HOLD], 0);
});

test("a rep that a pause cuts in two is one rep", () => {
  const cut = played([at("start", 0), at("pause", 13_000), at("resume", 90_000), at("pause", 92_000)]);
  assert.equal(cut.reps[REPS], 1);
});

test("a step that is played twice adds the whole reps of both times", () => {
  // The step is played for twelve seconds, then for seven: two reps and one rep; the unfinished reps add nothing.
  const again = played([at("start", 0), at("back", 22_000), at("skip", 29_000)]);
  assert.deepEqual([again.reps[REPS], again.done], [3, []]);
});

test("a skip from the middle of a rep adds nothing for that rep, and none for what it skips", () => {
  const skipped = played([at("start", 0), at("skip", 18_000), at("skip", 19_000), at("pause", 19_500)]);
  assert.deepEqual(skipped.reps, { [REPS]: 1, [HOLD]: 0 });
});

test("a rep of a third of a second less or more is counted at its end", () => {
  const steps = [reps(3, { seconds: 10 })];
  const running = played([at("start", 0)], steps);
  assert.deepEqual(
    [3333, 3334, 6666, 6667, 10_000].map((mono) => settle(steps, running, mono).reps[0]),
    [0, 1, 1, 2, 3],
  );
});

test("at the client's own pace a rep counts once the client says that it is done", () => {
  const steps = [reps(3, { seconds: 10, isGated: true }), step("rest", 20)];
  const counted = (/** @type {Happening[]} */ ...happenings) =>
    settle(steps, played([at("start", 0), ...happenings], steps), LONG_AFTER).reps[0];
  assert.equal(counted(), 0);
  assert.equal(counted(at("rep", 100)), 1);
  assert.equal(counted(at("rep", 100), at("rep", 60_000)), 2);
  assert.equal(counted(at("rep", 100), at("rep", 200), at("rep", 300)), 3);
});

test("an interruption pauses the session and is recorded once; its length is corrected later", () => {
  const cut = played([at("start", 0), at("interrupt", 12_400, { awaySeconds: 4 })]);
  assert.deepEqual([cut.status, cut.atMs, cut.gaps], ["paused", 12_400, [[12, 4]]]);
  assert.deepEqual(happen(STEPS, cut, at("interrupt", 60_000, { awaySeconds: 9 })), cut);
  const twice = happen(STEPS, happen(STEPS, cut, at("resume", 70_000)), at("interrupt", 71_000, { awaySeconds: 5 }));
  assert.deepEqual(withLastGap(twice, 600).gaps, [
    [12, 4],
    [13, 600],
  ]);
});

test("what has ended stays as it ended", () => {
  const ended = played([at("start", 0), at("end", 35_000, { ended: "stopped", why: "time" })]);
  assert.deepEqual(
    [ended.status, ended.atMs, ended.done, ended.ended, ended.why],
    ["ended", 35_000, [REPS], "stopped", "time"],
  );
  for (const kind of /** @type {const} */ (["start", "resume", "pause", "skip", "back", "rep"])) {
    assert.equal(happen(STEPS, ended, at(kind, 50_000)), ended);
  }
});

test("at the client's own pace time stands still until the client says that a rep is done", () => {
  const steps = [reps(3, { isGated: true }), step("rest", 20)];
  const position = (/** @type {import("../../../../pwa_assets/js/pure/session/player.js").Session} */ session) =>
    placeAt(steps, session, LONG_AFTER);
  assert.equal(position(played([at("start", 0)], steps)), 4999);
  const waits = played([at("start", 0), at("rep", 60_000), at("rep", 61_000)], steps);
  assert.deepEqual([position(waits), waits.done, waits.begun, waits.workedMs], [14_999, [], [0], 61_000]);
  const over = happen(steps, waits, at("rep", 62_000));
  assert.deepEqual([over.atMs, over.done, position(over)], [15_000, [0], 35_000]);
});

test("a rep said to be done in a rest, in a pause or without gates changes nothing", () => {
  const gated = [step("rest", 20), reps(3, { isGated: true })];
  assert.equal(played([at("start", 0), at("rep", 4000)], gated).atMs, 4000);
  assert.equal(played([at("start", 0), at("pause", 21_000), at("rep", 22_000)], gated).atMs, 21_000);
  assert.equal(played([at("start", 0), at("rep", 11_000)]).atMs, 11_000);
});

test("after any happenings in any order, the sums are right", () => {
  const steps = [...STEPS.slice(0, 4), step("rest", 5), reps(3, { isGated: true }), step("done", 0)];
  const kinds = /** @type {const} */ (["start", "resume", "pause", "skip", "back", "rep", "interrupt"]);
  for (let seed = 1; seed <= 40; seed += 1) {
    let [session, mono, dice] = [newSession(), 0, seed];
    for (let count = 0; count < 60; count += 1) {
      dice = (dice * 48_271) % 2_147_483_647; // minimal standard generator, from memory
      mono += 1 + (dice % 9000);
      const before = settle(steps, session, mono);
      session = happen(steps, session, at(kinds[dice % kinds.length], mono, { awaySeconds: 1 }));
      const after = settle(steps, session, mono);
      assert.ok(after.atMs >= 0 && after.atMs <= totalMs(steps));
      assert.ok(after.workedMs === before.workedMs && after.workedMs <= mono);
      assert.ok(before.done.every((i) => after.done.includes(i)));
      assert.ok(after.done.every((i) => after.begun.includes(i)));
      assert.ok(after.begun.every((i) => (before.reps[i] ?? 0) <= after.reps[i]));
      assert.deepEqual(
        after.done,
        [...new Set(after.done)].sort((a, b) => a - b),
      );
    }
  }
});
