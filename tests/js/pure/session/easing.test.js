import assert from "node:assert/strict";
import { test } from "node:test";
import { joinSheets } from "../../../../pwa_assets/js/pure/dose/today.js";
import { eased, easings, IN_ORDER, workFrom } from "../../../../pwa_assets/js/pure/session/easing.js";
import { golden, planWith, sheetOf } from "../../builders.js";

const SESSION = golden("session.json");
const LOADS = SESSION.doses.flatMap((/** @type {any} */ dose) =>
  dose.sets.map((/** @type {any} */ set) => set.load_kg),
);

/** @param {any} dose */
const weightOf = ({ sets }) => (sets.length ? [sets[0].load_kg, sets[0].range, sets[0].reps] : [-1]);

/** The heaviest dose at full range, for both arms. */
function heaviest() {
  const [dose] = [...SESSION.doses].sort((first, second) => {
    const [a, b] = [weightOf(first), weightOf(second)];
    return b[0] - a[0] || b[1] - a[1] || b[2] - a[2];
  });
  const arms = ["right", "left"].map((arm) => ({ arm, dose, sheet: sheetOf(SESSION, dose) }));
  const steps = joinSheets(SESSION, arms).map((step) => {
    const set = dose.sets.find((/** @type {any} */ set) => set.movement === step.movement && step.reps);
    return { ...step, load_kg: set?.load_kg ?? 0 };
  });
  return planWith(steps, arms);
}

const PLAN = heaviest();
const FIRST_SET = PLAN.steps.findIndex((step) => step.kind === "reps");
const LEFT_FROM = PLAN.steps.findIndex((step) => step.kind === "change_arm");

/** @param {import("../../../../pwa_assets/js/pure/session/easing.js").Easing[]} whats @param {number} [rep] @param {number} [index] */
const after = (whats, rep = 0, index = FIRST_SET) =>
  whats.reduce((plan, easing) => eased(SESSION, plan, index, easing, rep), /** @type {any} */ (PLAN));

test("everything that can be eased is offered, in the practice's order", () => {
  // Form, then range, weight, reps, then leaving out the movement: common practice, no source.
  assert.deepEqual(IN_ORDER, ["form", "range", "load", "reps", "leave"]);
  assert.deepEqual(easings(SESSION, PLAN, FIRST_SET), IN_ORDER);
});

test("each easing takes the next smaller that some dose asks", () => {
  const [before, now] = [/** @type {any} */ (PLAN.steps[FIRST_SET]), after(["range", "load", "reps"]).steps[FIRST_SET]];
  assert.deepEqual([before.range, now.range], [1, 0.75]);
  assert.equal(now.load_kg, Math.max(...LOADS.filter((/** @type {number} */ load) => load < before.load_kg)));
  assert.ok(now.reps < before.reps);
  assert.equal(now.seconds, now.reps * (now.up + now.down));
  assert.deepEqual([now.isChanged, now.isNarrowed], [true, true]);
});

test("an eased weight is worded as the bundle words it", () => {
  const { load, load_kg } = after(["load"]).steps[FIRST_SET];
  const known = SESSION.doses.flatMap((/** @type {any} */ dose) => dose.sets);
  assert.equal(load, known.find((/** @type {any} */ set) => set.load_kg === load_kg).load);
});

test("what was eased holds for the rest of this arm, and leaves the past and the other arm as they were", () => {
  const later = PLAN.steps.findIndex((step, i) => i > FIRST_SET && step.kind === "reps");
  const { steps } = after(["range", "load", "reps"], 0, later);
  assert.deepEqual(steps.slice(0, later), PLAN.steps.slice(0, later));
  assert.deepEqual(steps.slice(LEFT_FROM), PLAN.steps.slice(LEFT_FROM));
  const sets = steps.slice(later, LEFT_FROM).filter((/** @type {any} */ step) => step.kind === "reps");
  assert.ok(sets.length > 1);
  assert.ok(sets.every((/** @type {any} */ step) => step.range === 0.75 && step.isChanged));
});

test("what cannot be eased further is not offered", () => {
  const everything = /** @type {any} */ (["range", "range", "range", ...LOADS.map(() => "load"), "reps"]);
  assert.deepEqual(easings(SESSION, after(everything), FIRST_SET), ["form", "leave"]);
});

test("fewer reps still finish the rep that is on", () => {
  const nearly = PLAN.steps[FIRST_SET].reps - 1;
  assert.equal(after(["reps"], nearly).steps[FIRST_SET].reps, nearly);
});

test("in a rest it is the set to come that is eased, and after the last nothing is", () => {
  assert.equal(workFrom(PLAN.steps, FIRST_SET - 1), FIRST_SET);
  assert.equal(workFrom(PLAN.steps, PLAN.steps.length - 1), -1);
  assert.deepEqual(easings(SESSION, PLAN, PLAN.steps.length - 1), []);
});
