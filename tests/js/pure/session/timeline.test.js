import assert from "node:assert/strict";
import { test } from "node:test";
import {
  gateAfter,
  isWork,
  msToNext,
  msToStep,
  stateAt,
  stepStarts,
  totalMs,
} from "../../../../pwa_assets/js/pure/session/timeline.js";
import { golden, reps, sheetOf, shortSession, step } from "../../builders.js";

const STEPS = shortSession();
const SESSION = golden("session.json");

test("each step starts where the one before it ends", () => {
  assert.deepEqual(stepStarts(STEPS), [0, 10_000, 30_000, 50_000, 80_000, 80_000]);
  assert.equal(totalMs(STEPS), 80_000);
});

test("every cue sheet is as long as the core says", () => {
  const sheets = SESSION.doses.flatMap((/** @type {any} */ dose, /** @type {number} */ i) =>
    dose.sheet === null ? [] : [[dose, SESSION.dose_seconds[i]]],
  );
  assert.ok(sheets.length > 20);
  for (const [dose, seconds] of sheets) assert.equal(totalMs(sheetOf(SESSION, dose)), seconds * 1000);
});

test("a rep goes up and down at the sheet's tempo", () => {
  const seen = [10_000, 11_999, 12_000, 14_999, 15_000, 29_999].map((ms) => {
    const { rep, phase } = stateAt(STEPS, ms);
    return [rep, phase];
  });
  assert.deepEqual(seen, [
    [1, "up"],
    [1, "up"],
    [1, "down"],
    [1, "down"],
    [2, "up"],
    [4, "down"],
  ]);
  assert.deepEqual([stateAt(STEPS, 11_000).fraction, stateAt(STEPS, 13_500).fraction], [0.5, 0.5]);
});

test("a warm-up with no tempo of its own is halved", () => {
  const warmUp = [step("warm_up", 30, { reps: 10 })];
  assert.equal(stateAt(warmUp, 1499).phase, "up");
  assert.equal(stateAt(warmUp, 1500).phase, "down");
});

test("a moment between two steps is the first of the later one", () => {
  assert.deepEqual(
    [9999, 10_000].map((ms) => stateAt(STEPS, ms).step),
    [0, 1],
  );
  assert.equal(stateAt(STEPS, 10_000).stepMs, 0);
});

test("before its start the session stands at its start, and after its end at its end", () => {
  assert.deepEqual(stateAt(STEPS, -5), stateAt(STEPS, 0));
  assert.deepEqual(stateAt(STEPS, 90_000), stateAt(STEPS, 80_000));
  assert.deepEqual([stateAt(STEPS, 80_000).phase, stateAt(STEPS, 80_000).fraction], ["done", 1]);
});

test("seconds left are counted as a person counts: three, two, one", () => {
  assert.deepEqual(
    [27_000, 27_001, 29_999].map((ms) => stateAt(STEPS, ms).secondsLeft),
    [3, 3, 1],
  );
  assert.equal(stateAt(STEPS, 0).secondsLeft, 10);
});

test("from change to change nothing is left out, and between two nothing changes", () => {
  const shown = (/** @type {number} */ ms) => {
    const { step: index, phase, rep, secondsLeft } = stateAt(STEPS, ms);
    return JSON.stringify([index, phase, rep, rep ? 0 : secondsLeft]);
  };
  let changes = 0;
  for (let ms = 0; ms < 80_000; changes += 1) {
    const next = ms + msToNext(STEPS, ms);
    for (let between = ms + 1; between < next; between += 97)
      assert.equal(stateAt(STEPS, between).phase, stateAt(STEPS, ms + 1).phase);
    assert.notEqual(shown(next + 1), shown(ms + 1));
    ms = next;
  }
  assert.equal(changes, 10 + 8 + 20 + 30);
});

test("the next step is foreseen while time alone brings it", () => {
  assert.deepEqual([msToStep(STEPS, 0), msToStep(STEPS, 29_000)], [10_000, 1000]);
  assert.equal(msToStep(STEPS, 80_000), Number.POSITIVE_INFINITY);
  const gated = [step("prepare", 10), reps(2, { isGated: true }), step("rest", 20)];
  assert.deepEqual([msToStep(gated, 4000), msToStep(gated, 12_000)], [6000, Number.POSITIVE_INFINITY]);
});

test("a gate stands a moment before the end of the rep that is on, or of the next one", () => {
  const gated = [step("prepare", 10), reps(2, { isGated: true }), step("rest", 20)];
  assert.deepEqual(
    [0, 10_000, 15_000, 19_999, 20_000].map((ms) => gateAfter(gated, ms)),
    [14_999, 14_999, 19_999, 19_999, Number.POSITIVE_INFINITY],
  );
  assert.equal(gateAfter(STEPS, 0), Number.POSITIVE_INFINITY);
});

test("only warm-ups, reps and holds are work", () => {
  const kinds = /** @type {const} */ (["prepare", "warm_up", "reps", "rest", "hold", "change_arm", "done"]);
  assert.deepEqual(
    kinds.filter((kind) => isWork(step(kind, 1))),
    ["warm_up", "reps", "hold"],
  );
});
