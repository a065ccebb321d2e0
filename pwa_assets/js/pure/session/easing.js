/**
 * Easing in the middle of a session, in the practice's order: range, weight, reps, then leaving out the movement. Pure. The next
 * smaller range, weight or count is looked up in the doses of the bundle.
 *
 * @typedef {import("./timeline.js").Step} Step
 * @typedef {import("./run.js").Plan} Plan
 * @typedef {"form"|"range"|"load"|"reps"|"leave"} Easing
 * @typedef {{step: number, what: Easing, movement: string}} Eased
 */

import { isWork } from "./timeline.js";

/** @type {Easing[]} */
export const IN_ORDER = ["form", "range", "load", "reps", "leave"];

/** @param {Step[]} steps @param {number} index @returns {number} the current working step, or the next one; -1 for none */
export const workFrom = (steps, index) => steps.findIndex((step, i) => i >= index && isWork(step));

/**
 * Return what can still be eased.
 * @param {import("../../wire.js").Bundle} bundle
 * @param {Plan} plan
 * @param {number} index of the step that is on
 * @returns {Easing[]} in the practice's order
 */
export function easings(bundle, plan, index) {
  const step = plan.steps[workFrom(plan.steps, index)];
  if (!step) return [];
  return IN_ORDER.filter(
    (easing) => easing === "form" || easing === "leave" || next(bundle, plan, step, easing) !== null,
  );
}

/**
 * Return the plan with one easing, for this arm and from this step on.
 * @param {import("../../wire.js").Bundle} bundle
 * @param {Plan} plan
 * @param {number} index of the step that is on
 * @param {Easing} easing
 * @param {number} rep the current rep, which is still finished; 0 for none
 * @returns {Plan}
 */
export function eased(bundle, plan, index, easing, rep) {
  const from = plan.steps[workFrom(plan.steps, index)];
  const steps = plan.steps.map((step, i) => {
    if (i < index || step.arm !== from.arm || !setOf(plan, step)) return step;
    const to = next(bundle, plan, step, easing);
    if (to === null) return step;
    if (easing === "range") return { ...step, range: to, isChanged: true, isNarrowed: true };
    if (easing === "load") return { ...step, load_kg: to, load: loadText(bundle, to), isChanged: true };
    return step.reps ? fewer(step, i === index ? Math.max(to, rep) : to) : step;
  });
  return { ...plan, steps };
}

/** @param {Step} step @param {number} reps @returns {Step} */
const fewer = (step, reps) => ({ ...step, reps, seconds: (step.seconds / step.reps) * reps, isChanged: true });

/**
 * @param {import("../../wire.js").Bundle} bundle
 * @param {Plan} plan
 * @param {Step} step
 * @param {Easing} easing
 * @returns {number|null} the next smaller value; null where there is none
 */
function next(bundle, plan, step, easing) {
  const set = setOf(plan, step);
  if (!set) return null;
  if (easing === "range") return nextBelow(askedValues(bundle, "range"), step.range);
  if (easing === "load") return nextBelow(askedValues(bundle, "load_kg"), step.load_kg ?? 0);
  if (easing !== "reps" || set.dose.short === undefined) return null;
  const short = bundle.counts[set.dose.short][set.index];
  return step.reps === 0 || short < step.reps ? short : null;
}

/** @param {import("../../wire.js").Bundle} bundle @param {"range"|"load_kg"} field @returns {number[]} every value of the field in the bundle's doses */
const askedValues = (bundle, field) => bundle.doses.flatMap((dose) => dose.sets.map((set) => set[field]));

/** @param {number[]} values @param {number} value */
function nextBelow(values, value) {
  const below = values.filter((each) => each < value - 1e-9);
  return below.length ? Math.max(...below) : null;
}

/** @param {import("../../wire.js").Bundle} bundle @param {number} load_kg @returns {string|null} as the bundle words it */
function loadText(bundle, load_kg) {
  const sets = bundle.doses.flatMap((dose) => dose.sets);
  return sets.find((set) => set.load_kg === load_kg)?.load ?? null;
}

/** @param {Plan} plan @param {Step} step */
function setOf({ arms }, step) {
  const dose = (arms.find(({ arm }) => arm === step.arm) ?? arms[0]).dose;
  const index = dose.sets.findIndex((set) => set.movement === step.movement);
  return index < 0 ? null : { dose, index };
}
