import assert from "node:assert/strict";
import { test } from "node:test";
import { joinSheets } from "../../../../pwa_assets/js/pure/dose/today.js";
import { loggedWays, offeredBy, PLAIN, shaped, waysFrom } from "../../../../pwa_assets/js/pure/session/ways.js";
import { golden, planWith, sheetOf } from "../../builders.js";

const SESSION = golden("session.json");
const DOSE = SESSION.doses.findLast(
  (/** @type {any} */ dose) => dose.sport && dose.holds.length && dose.sets[0].load_kg > 0,
);

/** @param {string[]} arms @param {object} [other] */
function planFor(arms, other = {}) {
  const own = arms.map((arm) => ({
    arm,
    dose: DOSE,
    sheet: sheetOf(SESSION, DOSE),
    isFirst: true,
    isAfterSport: false,
    ...other,
  }));
  return planWith(joinSheets(SESSION, own), own);
}

const BOTH = planFor(["right", "left"]);

/** @param {object} ways @param {any} [plan] */
const shapedBy = (ways, plan = BOTH) => shaped(SESSION, plan, { ...PLAIN, ...ways }).steps;

/** @param {any[]} steps @param {string} [kind] */
const of = (steps, kind = "reps") => steps.filter((step) => step.kind === kind);

test("the plain way is the cue sheet as it was written", () => {
  const plain = shapedBy({}).map(({ isGated, isChanged, load_kg, ...step }) => {
    assert.ok(!isGated && !isChanged);
    return step;
  });
  assert.deepEqual(plain, BOTH.steps);
});

test("the short day keeps every direction, with fewer reps in each", () => {
  const [whole, short] = [of(shapedBy({})), of(shapedBy({ part: "short" }))];
  assert.deepEqual(
    short.map((step) => step.movement),
    whole.map((step) => step.movement),
  );
  assert.ok(short.every((step, i) => step.reps < whole[i].reps && step.isChanged));
  assert.ok(short.every((step) => step.seconds === step.reps * (step.up + step.down)));
});

test("before sport nothing is lifted and nothing is stretched", () => {
  const steps = shapedBy({ part: "before_sport" });
  assert.ok(of(steps).length > 0);
  assert.ok(of(steps).every((step) => step.load_kg === 0 && step.load === null));
  assert.deepEqual(of(steps, "hold"), []);
  assert.ok(of(shapedBy({}), "hold").length > 0);
});

test("before and after sport together make the day", () => {
  const counted = (/** @type {any} */ ways, /** @type {any} */ plan) =>
    of(shapedBy(ways, plan)).map((step) => step.reps);
  const before = counted({ part: "before_sport" }, planFor(["right"]));
  const after = counted({}, planFor(["right"], { isFirst: false, isAfterSport: true }));
  const whole = counted({}, planFor(["right"]));
  assert.ok(before.length === after.length && after.length === whole.length);
  assert.ok(whole.every((reps, i) => before[i] > 0 && after[i] < reps));
});

test("one arm works alone, and in turns there is a change between", () => {
  assert.deepEqual([...new Set(shapedBy({ arms: "left" }).map((step) => step.arm))], ["left"]);
  assert.equal(of(shapedBy({}), "change_arm").length, 1);
});

test("both at once lift together, and each arm is stretched by the other hand, in turn", () => {
  const both = shapedBy({ arms: "both" });
  const sheet = sheetOf(SESSION, DOSE);
  assert.deepEqual(
    [...of(both, "warm_up"), ...of(both)].map(({ arm }) => arm),
    Array(7).fill("both"),
  );
  assert.deepEqual(
    of(both).map(({ movement }) => movement),
    of(sheet).map(({ movement }) => movement),
  );
  const stretches = of(sheet, "hold").map(({ movement }) => movement);
  const held = of(both, "hold").map(({ arm, movement }) => [arm, movement]);
  assert.deepEqual(
    held,
    ["right", "left"].flatMap((arm) => stretches.map((movement) => [arm, movement])),
  );
  assert.deepEqual([of(both, "change_arm").length, of(both, "done").length, both.at(-1)?.kind], [1, 1, "done"]);
  const before = shapedBy({ arms: "both", part: "before_sport" });
  assert.deepEqual([...new Set(before.map(({ arm }) => arm))], ["both"]);
});

test("a choice of an arm that today asks nothing of changes nothing", () => {
  const right = planFor(["right"]);
  assert.deepEqual(shapedBy({ arms: "left" }, right), shapedBy({}, right));
});

test("tempo, rests and the time to get ready are the client's own, and a set lasts as long as its reps", () => {
  const steps = shapedBy({ timing: { up: 4, down: 5, rest: 33, prepare: 12 } });
  assert.ok(of(steps).every((step) => step.seconds === step.reps * 9));
  assert.ok(of(steps, "rest").every((step) => step.seconds === 33));
  assert.ok(of(steps, "prepare").every((step) => step.seconds === 12));
  assert.deepEqual(of(steps, "warm_up"), of(shapedBy({}), "warm_up"));
});

test("times kept from another bundle are held to the bounds of this one", () => {
  const timing = { up: [2, 1, 6], down: [3, 2, 6], rest: [20, 5, 100], prepare: [10, 5, 30] };
  const kept = { up: 0.2, down: 60, rest: 200, prepare: 1, change_arm: 500 };
  const { steps } = shaped({ ...SESSION, timing }, BOTH, { ...PLAIN, timing: kept });
  assert.ok(of(steps).every((step) => step.up === 1 && step.down === 6 && step.seconds === step.reps * 7));
  assert.ok(of(steps, "rest").length && of(steps, "rest").every((step) => step.seconds === 100));
  assert.ok(of(steps, "prepare").every((step) => step.seconds === 5));
  // If the bundle has no bounds for a time, the sheet's own time counts.
  assert.deepEqual(of(steps, "change_arm"), of(shapedBy({}), "change_arm"));
});

test("at one's own pace every counted step waits for each rep", () => {
  for (const step of shapedBy({ pace: "own" })) assert.equal(step.isGated, step.reps > 0);
});

test("not every day offers every way", () => {
  const offered = (/** @type {any} */ plan) =>
    Object.entries(offeredBy(SESSION, plan)).flatMap(([way, is]) => (is ? [way] : []));
  assert.deepEqual(offered(BOTH), ["short", "before_sport", "turns", "both", "right", "left"]);
  assert.deepEqual(offered(planFor(["right"])), ["short", "before_sport"]);
  assert.deepEqual(offered(planFor(["right"], { isFirst: false })), ["short"]);
  const uneven = { ...BOTH, arms: [BOTH.arms[0], { ...BOTH.arms[1], dose: { ...DOSE, sheet: DOSE.sheet - 1 } }] };
  assert.ok(!offered(uneven).includes("both"));
});

const CHOSEN = { ...PLAIN, arms: /** @type {const} */ ("left"), part: /** @type {const} */ ("short"), toneVolume: 0.2 };
const TODAY = "2026-03-02";

test("what is kept from the last session is the voice and the tempo, not the arms or the part of it", () => {
  assert.deepEqual(waysFrom(CHOSEN, TODAY, {}), { ...PLAIN, toneVolume: 0.2 });
  assert.deepEqual(waysFrom({ ...CHOSEN, on: "2026-03-01" }, TODAY, {}), {
    ...PLAIN,
    on: "2026-03-01",
    toneVolume: 0.2,
  });
  assert.deepEqual(waysFrom(undefined, TODAY, {}), PLAIN);
});

test("what was chosen today holds until a session, as far as today still offers it", () => {
  const chosen = { ...CHOSEN, on: TODAY };
  assert.deepEqual(waysFrom(chosen, TODAY, offeredBy(SESSION, BOTH)), chosen);
  assert.deepEqual(waysFrom(chosen, TODAY, offeredBy(SESSION, planFor(["right"]))), { ...chosen, arms: PLAIN.arms });
  const sport = { ...chosen, part: /** @type {const} */ ("before_sport") };
  const later = planFor(["right", "left"], { isFirst: false });
  assert.deepEqual(waysFrom(sport, TODAY, offeredBy(SESSION, later)), { ...sport, part: PLAIN.part });
});

test("the log is told of what differs from the plain way", () => {
  assert.deepEqual(loggedWays(PLAIN), []);
  assert.deepEqual(loggedWays({ ...PLAIN, part: "before_sport", arms: "both", pace: "own" }), [
    "before_sport",
    "both",
    "own_pace",
  ]);
});
