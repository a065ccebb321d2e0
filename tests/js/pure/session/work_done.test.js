import assert from "node:assert/strict";
import { test } from "node:test";
import { joinSheets } from "../../../../pwa_assets/js/pure/dose/today.js";
import { eased } from "../../../../pwa_assets/js/pure/session/easing.js";
import { happen, newSession } from "../../../../pwa_assets/js/pure/session/player.js";
import { finishedBody, newRun, runOf, sessionOf } from "../../../../pwa_assets/js/pure/session/run.js";
import { PLAIN, shaped } from "../../../../pwa_assets/js/pure/session/ways.js";
import { doseOf, joulesOf, playedSets } from "../../../../pwa_assets/js/pure/session/work_done.js";
import { planWith, reps, step } from "../../builders.js";
import { BUNDLE } from "../../small_bundle.js";

/** @type {any} */
const REP_WORK = BUNDLE.rep_work;
const WALL = 1_772_474_400_000;
/** Ten reps up and six reps down, each of five seconds, with half a kilogram (1.5 joules a rep); a rest; a stretch. */
const SETS = [
  { movement: "palm_up", reps: 10, load_kg: 0.5, load: "0.5 kg", range: 1 },
  { movement: "palm_down", reps: 6, load_kg: 0.5, load: "0.5 kg", range: 1 },
];
const SHEET = [
  reps(10, { movement: "palm_up" }),
  step("rest", 20, { movement: "palm_down" }),
  reps(6, { movement: "palm_down" }),
  step("hold", 30, { movement: "stretch" }),
  step("done", 0),
];
const [REST, DOWN, OVER] = [50_000, 70_000, 130_000];
const DOSE = {
  mode: "training",
  sessions: 1,
  sheet: 0,
  sets: SETS,
  holds: [{ movement: "stretch" }],
  short: 0,
  sport: [1, 2],
};
const WORLD = {
  ...BUNDLE,
  doses: [DOSE],
  counts: [
    [5, 5],
    [3, 2],
    [8, 0],
  ],
  change_arm: {},
};

/** @param {string[]} [arms] @param {object} [dose] @param {object} [other] @param {object} [ways] */
function planFor(arms = ["right"], dose = {}, other = {}, ways = {}) {
  const own = arms.map((arm) => ({
    arm,
    dose: { ...DOSE, ...dose },
    sheet: SHEET,
    isFirst: true,
    isAfterSport: false,
    ...other,
  }));
  return shaped(WORLD, planWith(joinSheets(WORLD, own), own, REP_WORK), { ...PLAIN, ...ways });
}

/** @param {any} plan @param {...string} story what happens to a session, and when, such as "skip 26000" */
function played(plan, ...story) {
  const happenings = ["start 0", ...story].map((word) => {
    const [kind, mono] = word.split(" ");
    return /** @type {any} */ ({ kind, mono: Number(mono), ended: "stopped", why: "" });
  });
  const session = happenings.reduce((now, happening) => happen(plan.steps, now, happening), newSession());
  return runOf(newRun(plan, "run-1"), session, WALL);
}

/** The reps and the share of each direction, with a colon between. @param {any} run @param {string} [arm] */
const inShort = (run, arm = "right") =>
  playedSets(run, arm)
    .map((set) => `${set.reps}:${set.share}`)
    .join(" ");

/** @param {any} run @param {string} [arm] */
const asPlayed = (run, arm = "right") =>
  playedSets(run, arm)
    .map(({ load_kg, range }) => `${load_kg}:${range}`)
    .join(" ");

test("a session done to its end did all that the day asks, and each set is told as it was", () => {
  const run = played(planFor(), `pause ${OVER}`);
  assert.deepEqual(playedSets(run, "right"), [
    { movement: "palm_up", reps: 10, load_kg: 0.5, range: 1, share: 1000 },
    { movement: "palm_down", reps: 6, load_kg: 0.5, range: 1, share: 1000 },
  ]);
});

test("of two sessions that a day asks, one is half", () => {
  assert.equal(inShort(played(planFor(["right"], { sessions: 2 }), `pause ${OVER}`)), "10:500 6:500");
  assert.equal(inShort(played(planFor(["right"], { sessions: 3 }), `pause ${OVER}`)), "10:333 6:333");
});

test("a session that is stopped in the middle of a set counts the whole reps of it, and nothing of what was to come", () => {
  assert.equal(inShort(played(planFor(), "end 24900")), "4:400 0:0");
  assert.equal(inShort(played(planFor(), `end ${DOWN + 4999}`)), "10:1000 0:0");
  assert.equal(inShort(played(planFor())), "0:0 0:0");
});

test("a skip leaves the rest of a set undone, and the next one is done in full", () => {
  assert.equal(inShort(played(planFor(), "skip 26000", "pause 100000")), "5:500 6:1000");
});

test("going back and through it again adds up, but never to more than was asked", () => {
  assert.equal(inShort(played(planFor(), "back 27000", "skip 38000")), "7:700 0:0");
  assert.equal(inShort(played(planFor(), "back 40000", "skip 80000")), "10:1000 0:0");
  // A step that was done stays done, although it is played again and left in the middle.
  assert.equal(inShort(played(planFor(), "back 51000", "skip 60000")), "10:1000 0:0");
});

test("a session that was closed and is answered for later tells the reps of the step that it was left in", () => {
  const kept = JSON.parse(JSON.stringify(played(planFor(), "pause 33000")));
  assert.equal(inShort(kept), "6:600 0:0");
  const body = finishedBody({ ...kept, ended: "stopped", why: "interrupted" });
  assert.deepEqual(body.arms.right.sets, playedSets(kept, "right"));
  const more = (/** @type {"step"|"restart"} */ how, /** @type {number} */ mono) => {
    const taken = happen(kept.plan.steps, sessionOf(kept, how, WALL + 60_000), { kind: "resume", mono: 0 });
    return inShort(runOf(kept, happen(kept.plan.steps, taken, { kind: "skip", mono }), WALL));
  };
  assert.deepEqual([more("step", 10_500), more("restart", 10_500)], ["8:800 0:0", "8:800 0:0"]);
  // Three seconds of the seventh rep were played: 'step' finishes that rep, 'restart' plays it again.
  assert.deepEqual([more("step", 2000), more("restart", 2000)], ["7:700 0:0", "6:600 0:0"]);
});

test("a short session counts by its share of the work", () => {
  assert.equal(inShort(played(planFor(["right"], {}, {}, { part: "short" }), `pause ${OVER}`)), "5:500 5:833");
});

test("before sport no weight is lifted, and together with the session after sport the day's work is complete", () => {
  const before = played(planFor(["right"], {}, {}, { part: "before_sport" }), `pause ${OVER}`);
  // A rep without the weight is 1 joule instead of 1.5: three such reps are two of ten.
  assert.deepEqual([inShort(before), asPlayed(before)], ["3:200 2:222", "0:1 0:1"]);
  const after = played(planFor(["right"], {}, { isAfterSport: true }), `pause ${OVER}`);
  // A set that is left out has 0 reps; its weight and range are the dose's.
  assert.deepEqual([inShort(after), asPlayed(after)], ["8:800 0:0", "0.5:1 0.5:1"]);
});

test("both arms at once are each given the whole set, and in turn each its own", () => {
  const both = played(planFor(["right", "left"], {}, {}, { arms: "both" }), "end 22000");
  assert.deepEqual([inShort(both), inShort(both, "left")], ["4:400 0:0", "4:400 0:0"]);
  const inTurn = played(planFor(["right", "left"]), `end ${OVER + 7000}`);
  assert.deepEqual([inShort(inTurn), inShort(inTurn, "left")], ["10:1000 6:1000", "1:100 0:0"]);
});

test("an arm that is named only for its sharp pain lists what it was asked, with no rep", () => {
  const run = { ...played(planFor(["right", "left"]), "end 22000"), sharpArm: "left" };
  const { right, left } = finishedBody(run).arms;
  assert.deepEqual(
    [right.sharp, left.sharp, inShort(run, "left"), left.sets],
    [false, true, "0:0 0:0", playedSets(run, "left")],
  );
});

test("an eased set counts at its eased reps, weight and range", () => {
  const doses = [DOSE, { ...DOSE, sets: SETS.map((set) => ({ ...set, load_kg: 0, range: 0.75 })) }];
  const ease = (/** @type {any} */ easing, index = 0, rep = 0) =>
    eased({ ...WORLD, doses }, planFor(), index, easing, rep);
  const whole = (/** @type {any} */ plan) => played(plan, `pause ${OVER}`);
  assert.deepEqual(
    [inShort(whole(ease("range"))), asPlayed(whole(ease("range")))],
    ["10:750 6:750", "0.5:0.75 0.5:0.75"],
  );
  assert.deepEqual([inShort(whole(ease("load"))), asPlayed(whole(ease("load")))], ["10:667 6:667", "0:1 0:1"]);
  assert.equal(inShort(whole(ease("reps"))), "5:500 5:833");
  // The easing counts from the second set on; the first set stays as it was played.
  assert.equal(inShort(whole(ease("range", 2))), "10:1000 6:750");
});

test("reps that were eased in the middle of a set count as far as they went", () => {
  const run = played(planFor(), "pause 36000");
  assert.equal(inShort(run), "7:700 0:0");
  const fewer = { ...run, plan: eased(WORLD, run.plan, 0, "reps", 8) };
  assert.equal(inShort(fewer), "7:700 0:0");
  const less = { ...run, plan: eased(WORLD, run.plan, 0, "reps", 0) };
  assert.equal(inShort(less), "5:500 0:0");
});

test("a share is at most the whole, and is told in whole numbers", () => {
  const heavier = planFor();
  heavier.steps = heavier.steps.map((step) =>
    step.kind === "reps" ? { ...step, reps: step.reps + 1, seconds: step.seconds + 5 } : step,
  );
  assert.equal(inShort(played(heavier, `pause ${OVER + 10_000}`)), "11:1000 7:1000");
});

test("a movement whose work is 0 counts by reps", () => {
  const none = Object.fromEntries(
    Object.keys(REP_WORK).map((movement) => [
      movement,
      REP_WORK[movement].map((/** @type {any} */ row) => [row[0], row[1], 0]),
    ]),
  );
  const run = played(planFor(["right"], { sessions: 2 }), "end 24900");
  assert.equal(inShort({ ...run, plan: { ...run.plan, repWork: none } }), "4:200 0:0");
});

test("what a rep is worth is looked up by equal numbers, and what is not in the table throws", () => {
  const set = { movement: "palm_up", load_kg: 0.5, range: 0.75 };
  assert.equal(joulesOf(REP_WORK, set), 1.125);
  assert.equal(joulesOf(REP_WORK, { ...set, load_kg: 0.5 + 1e-10, range: 0.75 - 1e-10 }), 1.125);
  for (const other of [{ load_kg: 0.5001 }, { range: 0.76 }, { movement: "unknown" }]) {
    assert.throws(() => joulesOf(REP_WORK, { ...set, ...other }), RangeError);
  }
});

test("only the sets are counted: no warm-up of the same movement, no rest before it", () => {
  const plan = planFor();
  plan.steps = [step("warm_up", 20, { reps: 10, movement: "palm_up" }), ...plan.steps];
  assert.equal(inShort(played(plan, `end ${20_000 + REST}`)), "10:1000 0:0");
  assert.equal(inShort(played(plan, "end 20000")), "0:0 0:0");
});

test("a session's entry tells what the day asked, so that a page about the past need not guess", () => {
  const run = newRun(planFor(), "run-1");
  const sets = SETS.map(({ load: _load, ...set }) => set);
  assert.deepEqual(doseOf(run, "right"), { sessions: 1, sets });
  assert.equal(doseOf(run, "left"), undefined);
  const body = finishedBody({ ...run, begun: [0] });
  assert.deepEqual(body.arms.right.dose, { sessions: 1, sets });
});
