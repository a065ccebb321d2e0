import assert from "node:assert/strict";
import { test } from "node:test";
import { happen, newSession, settle } from "../../../../pwa_assets/js/pure/session/player.js";
import {
  accountOf,
  armNow,
  armsOf,
  finishedBody,
  newRun,
  runOf,
  sessionOf,
  withoutStop,
  workedArms,
} from "../../../../pwa_assets/js/pure/session/run.js";
import { planWith, reps, shortSession, step } from "../../builders.js";

const [COMPLETED, SHARP] = /** @type {const} */ (["completed", "sharp"]);
const WALL = 1_772_474_400_000;
const STEPS = [
  ...shortSession().slice(0, 4),
  step("change_arm", 15, { arm: "left" }),
  reps(2, { arm: "left" }),
  step("done", 0, { arm: "left" }),
];
const PLAN = planWith(STEPS);

/** The run after some milliseconds of playing. @param {number} ms */
function after(ms) {
  const running = happen(STEPS, newSession(), { kind: "start", mono: 0 });
  return runOf(newRun(PLAN, "run-1"), settle(STEPS, running, ms), WALL);
}

test("a run that is kept and taken up goes on where it was, counts nothing twice and tells the gap", () => {
  const kept = JSON.parse(JSON.stringify(after(33_000)));
  const taken = sessionOf(kept, "step", WALL + 90_000);
  assert.deepEqual([taken.status, taken.atMs, taken.done, taken.gaps], ["paused", 33_000, [1], [[33, 90]]]);
  const resumed = happen(STEPS, taken, { kind: "resume", mono: 0 });
  const over = runOf(kept, settle(STEPS, resumed, 1_000_000), WALL);
  assert.deepEqual([over.done, over.workedMs], [[1, 3, 5], 105_000]);
});

test("starting the step again loses what was played of it, not what was worked", () => {
  const taken = sessionOf(after(56_000), "restart", WALL);
  assert.deepEqual([taken.atMs, taken.workedMs, taken.begun, taken.done], [50_000, 56_000, [1, 3], [1]]);
});

test("no time away is no gap, even where the clock on the wall went back", () => {
  assert.deepEqual(sessionOf(after(33_000), "step", WALL).gaps, []);
  assert.deepEqual(sessionOf(after(33_000), "step", WALL - 3_600_000).gaps, []);
});

test("the arms that worked are told in the plan's order, and both at once are two", () => {
  assert.deepEqual(workedArms(after(5000)), []);
  assert.deepEqual(workedArms(after(96_000)), ["right", "left"]);
  assert.deepEqual([armsOf("both"), armsOf("left"), armsOf("")], [["right", "left"], ["left"], []]);
});

test("the arm of now is the one at work, in a rest the one that rests, and either between the two", () => {
  assert.deepEqual(
    [0, 12_000, 33_000, 56_000, 82_000, 96_000].map((ms) => armNow(after(ms))),
    ["both", "right", "right", "right", "both", "left"],
  );
  // The client went back from the second arm to the last rest of the first arm.
  assert.equal(armNow({ ...after(96_000), step: 2 }), "right");
  const oneArm = { ...PLAN, steps: STEPS.slice(0, 4) };
  assert.equal(armNow(newRun(oneArm, "run-2")), "right");
});

test("what goes into the log is what was done of what was asked", () => {
  const run = { ...after(96_000), ended: COMPLETED, draft: { ratings: { right: 3 }, note: `  ${"x".repeat(400)}` } };
  const body = finishedBody(run);
  assert.deepEqual(body.arms, {
    right: { worst: 3, sharp: false, sets: [] },
    left: { worst: null, sharp: false, sets: [] },
  });
  assert.deepEqual([body.routine, body.asked_steps, body.done_steps, body.active_seconds], [3, 3, 2, 96]);
  assert.deepEqual([body.ended, body.why, body.note?.length], ["completed", "", 280]);
});

test("the log is told where the session was interrupted, and for how long each time", () => {
  const gaps = /** @type {[number, number][]} */ ([
    [5, 600],
    [40, 12],
  ]);
  assert.deepEqual(finishedBody({ ...after(56_000), gaps }).gaps, gaps);
  const taken = sessionOf(after(33_000), "step", WALL + 90_000);
  assert.deepEqual(finishedBody(runOf(after(33_000), taken, WALL)).gaps, [[33, 90]]);
});

test("a run that nobody ended was stopped by an interruption", () => {
  const { ended, why } = finishedBody(after(33_000));
  assert.deepEqual([ended, why], ["stopped", "interrupted"]);
});

test("a sharp arm is named even where it had not begun", () => {
  const body = finishedBody({ ...after(33_000), ended: "sharp", sharpArm: "left" });
  const sets = /** @type {any[]} */ ([]);
  assert.deepEqual(body.arms, { right: { worst: null, sharp: false, sets }, left: { worst: null, sharp: true, sets } });
  const both = finishedBody({ ...after(5000), ended: "sharp", sharpArm: "both" });
  assert.deepEqual(
    Object.values(both.arms).map(({ sharp }) => sharp),
    [true, true],
  );
});

test("a stop that is taken back leaves the same work, open and with nothing sharp in it", () => {
  const stopped = {
    ...newRun(planWith(shortSession()), "run"),
    begun: [1],
    done: [1],
    ended: SHARP,
    sharpArm: "right",
    entry: "run",
  };
  const open = withoutStop(stopped);
  assert.deepEqual([open.ended, open.sharpArm, "entry" in open], ["", "", false]);
  const [before, after] = [finishedBody(stopped), finishedBody(open)];
  assert.deepEqual([before.arms.right.sharp, after.arms.right.sharp], [true, false]);
  assert.deepEqual(after.arms.right.sets, before.arms.right.sets);
  assert.deepEqual([after.ended, after.why], ["stopped", "interrupted"]);
});

test("the account has a line for each working step: done, part or left", () => {
  assert.deepEqual(
    accountOf(after(56_000)).map(({ outcome }) => outcome),
    ["done", "part", "left"],
  );
});
