import assert from "node:assert/strict";
import { test } from "node:test";
import { joinSheets } from "../../../../pwa_assets/js/pure/dose/today.js";
import {
  announcementsDue,
  announcementTimes,
  cueTimes,
  tonesDue,
} from "../../../../pwa_assets/js/pure/session/cue_times.js";
import { stateAt, stepStarts, totalMs } from "../../../../pwa_assets/js/pure/session/timeline.js";
import { golden, reps, sheetOf, step } from "../../builders.js";

const SESSION = golden("session.json");
const SHORT = [step("prepare", 5), reps(2), step("rest", 3), step("change_arm", 4), step("hold", 4), step("done", 0)];

/** The session of every dose in the bundle: the right arm, then the left arm. */
const SESSIONS = SESSION.doses
  .filter((/** @type {any} */ dose) => dose.sheet !== null)
  .map((/** @type {any} */ dose) => {
    const arms = ["right", "left"].map((arm) => ({ arm, sheet: sheetOf(SESSION, dose) }));
    return joinSheets(SESSION, arms);
  });

test("the tones of a short session, listed one by one", () => {
  const tones = cueTimes(SHORT).map(({ atMs, tone, step: index }) => `${atMs} ${tone} ${index}`);
  assert.deepEqual(tones, [
    ...["2000 tick 0", "3000 tick 0", "4000 tick 0"],
    ...["5000 step 1", "7000 down 1", "10000 up 1", "12000 down 1"],
    ...["15000 step 2", "16000 tick 2", "17000 tick 2"],
    ...["18000 arm 3", "19000 tick 3", "20000 tick 3", "21000 tick 3"],
    ...["22000 step 4", "23000 tick 4", "24000 tick 4", "25000 tick 4"],
    "26000 end 5",
  ]);
});

test("each rep of every cue sheet turns at the tempo that the sheet gives, to the millisecond", () => {
  assert.ok(SESSIONS.length > 20);
  for (const steps of SESSIONS) {
    const starts = stepStarts(steps);
    const turns = steps.flatMap((/** @type {any} */ step, /** @type {number} */ i) =>
      Array.from({ length: step.reps }, (_, rep) => starts[i] + rep * (step.up + step.down) * 1000).flatMap(
        (ms, rep) => [...(rep ? [`${ms} up`] : []), `${ms + step.up * 1000} down`],
      ),
    );
    const found = cueTimes(steps).filter(({ tone }) => tone === "up" || tone === "down");
    assert.deepEqual(
      found.map(({ atMs, tone }) => `${atMs} ${tone}`),
      turns,
    );
  }
});

test("at each turn's tone the picture turns", () => {
  for (const steps of SESSIONS) {
    for (const { atMs, tone, step: index } of cueTimes(steps).filter(
      (cue) => cue.tone === "up" || cue.tone === "down",
    )) {
      const moment = stateAt(steps, atMs);
      assert.deepEqual([moment.step, moment.phase, moment.fraction], [index, tone, 0]);
    }
  }
});

test("every cue sheet opens each step but the first, tells the change of arm once, and ends once at its end", () => {
  for (const steps of SESSIONS) {
    const cues = cueTimes(steps);
    const opening = cues.filter(({ tone }) => tone === "step" || tone === "arm");
    assert.deepEqual(
      opening.map(({ atMs }) => atMs),
      stepStarts(steps).slice(1, steps.length - 1),
    );
    assert.equal(cues.filter(({ tone }) => tone === "arm").length, 1);
    assert.deepEqual(cues.at(-1), { atMs: totalMs(steps), tone: "end", step: steps.length - 1 });
  }
});

test("the last three seconds tick in every timed step and in no set", () => {
  for (const steps of SESSIONS) {
    const timed = steps.filter((/** @type {any} */ each) => !each.reps && each.seconds > 3).length;
    const ticks = cueTimes(steps).filter(({ tone }) => tone === "tick");
    assert.equal(ticks.length, timed * 3);
    assert.ok(ticks.every(({ step: index }) => !steps[index].reps));
  }
});

test("a long wait or hold has a tone of its own at its half, where it is told in words", () => {
  const halves = (/** @type {any[]} */ list, /** @type {string} */ key) =>
    list.filter((entry) => entry[key] === "half").map(({ atMs }) => atMs);
  const steps = [step("hold", 30), reps(20), step("rest", 20), step("done", 0)];
  assert.deepEqual(halves(cueTimes(steps), "tone"), [15_000]);
  for (const sheet of SESSIONS)
    assert.deepEqual(halves(cueTimes(sheet), "tone"), halves(announcementTimes(sheet), "kind"));
});

test("cues come in order of time", () => {
  for (const steps of SESSIONS) {
    const times = [cueTimes(steps), announcementTimes(steps)].map((list) => list.map(({ atMs }) => atMs));
    for (const list of times)
      assert.deepEqual(
        list,
        [...list].sort((a, b) => a - b),
      );
  }
});

test("a long hold announces its half and its last ten seconds, and a set the numbers of its last three reps", () => {
  const announcements = announcementTimes([step("hold", 30), reps(6), step("hold", 14), step("done", 0)]);
  assert.deepEqual(
    announcements.map(({ atMs, kind, rep }) => [atMs, kind, rep].join(" ").trim()),
    [
      "0 step",
      "15000 half",
      "20000 ten",
      "30000 step",
      "35000 first",
      "45000 count 4",
      "50000 count 5",
      "55000 count 6",
      "60000 step",
      "74000 done",
    ],
  );
});

test("what a first discomfort means is announced in the second rep of each arm's first set, after the rep's number if that is announced", () => {
  const first = (/** @type {any[]} */ steps) =>
    announcementTimes(steps).flatMap(({ atMs, kind }) => (kind === "first" ? [atMs] : []));
  const left = { arm: "left" };
  assert.deepEqual(first([reps(10), reps(10), reps(10, left), reps(10, left)]), [5000, 105_000]);
  assert.deepEqual(first([step("warm_up", 50, { reps: 10 }), reps(4)]), [56_500]);
  assert.deepEqual(first([reps(1), reps(10)]), [10_000]);
  for (const steps of SESSIONS) {
    const arms = new Set(steps.flatMap((/** @type {any} */ { kind, arm }) => (kind === "reps" ? [arm] : [])));
    assert.equal(first(steps).length, arms.size);
  }
});

test("an announcement comes once and never late; a step is announced when it is shown", () => {
  const announcements = announcementTimes([step("hold", 30), step("done", 0)]);
  const due = (/** @type {number} */ from, /** @type {number} */ to) =>
    announcementsDue(announcements, from, to).map(({ kind }) => kind);
  assert.deepEqual(due(14_900, 15_000), ["half"]);
  assert.deepEqual(due(15_000, 15_100), []);
  assert.deepEqual(due(14_900, 16_500), []);
  assert.deepEqual(due(-1, 100), []);
});

test("a tone is felt as it passes, and not late", () => {
  const cues = cueTimes(SHORT);
  assert.deepEqual(tonesDue(cues, 6990, 7010), ["down"]);
  assert.deepEqual(tonesDue(cues, 7010, 7030), []);
  assert.deepEqual(tonesDue(cues, 5500, 7250), []);
});
