/**
 * Easing off in the middle of a session, in the practice's order: range, then weight, then reps, then the movement left
 * out. Pure; what is next smaller, lighter or fewer is looked up among what the bundle's doses ask.
 *
 * @typedef {import("./timeline.js").Step} Step
 * @typedef {import("./run.js").Plan} Plan
 * @typedef {"form"|"range"|"load"|"reps"|"leave"} What
 * @typedef {{step: number, what: What, movement: string}} Eased
 */

import { isWork } from "./timeline.js";

/** @type {What[]} */
export const IN_ORDER = ["form", "range", "load", "reps", "leave"];

/** @param {Step[]} steps @param {number} index @returns {number} the working step that is on, or that comes; -1 for none */
export const workFrom = (steps, index) => steps.findIndex((step, i) => i >= index && isWork(step));

/**
 * What can still be eased.
 * @param {import("../../wire.js").Bundle} bundle
 * @param {Plan} plan
 * @param {number} index of the step that is on
 * @returns {What[]} in the practice's order
 */
export function easings(bundle, plan, index) {
  const step = plan.steps[workFrom(plan.steps, index)];
  if (!step) return [];
  return IN_ORDER.filter((what) => what === "form" || what === "leave" || next(bundle, plan, step, what) !== null);
}

/**
 * The plan with one thing eased, for this arm and from this step on.
 * @param {import("../../wire.js").Bundle} bundle
 * @param {Plan} plan
 * @param {number} index of the step that is on
 * @param {What} what
 * @param {number} rep the rep that is on, 0 for none: it is still finished
 * @returns {Plan}
 */
export function eased(bundle, plan, index, what, rep) {
  const from = plan.steps[workFrom(plan.steps, index)];
  const steps = plan.steps.map((step, i) => {
    if (i < index || step.arm !== from.arm || !setOf(plan, step)) return step;
    const to = next(bundle, plan, step, what);
    if (to === null) return step;
    if (what === "range") return { ...step, range: to, isChanged: true, isNarrowed: true };
    if (what === "load") return { ...step, load_kg: to, load: loadText(bundle, to), isChanged: true };
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
 * @param {What} what
 * @returns {number|null} the next smaller, null where there is none
 */
function next(bundle, plan, step, what) {
  const set = setOf(plan, step);
  if (!set) return null;
  if (what === "range") return nextBelow(asked(bundle, "range"), step.range);
  if (what === "load") return nextBelow(asked(bundle, "load_kg"), step.load_kg ?? 0);
  if (what !== "reps" || set.dose.short === undefined) return null;
  const short = bundle.counts[set.dose.short][set.place];
  return step.reps === 0 || short < step.reps ? short : null;
}

/** @param {import("../../wire.js").Bundle} bundle @param {"range"|"load_kg"} field @returns {number[]} every value of it that some dose asks */
const asked = (bundle, field) => bundle.doses.flatMap((dose) => dose.sets.map((set) => set[field]));

/** @param {number[]} values @param {number} value */
function nextBelow(values, value) {
  const below = values.filter((one) => one < value - 1e-9);
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
  const place = dose.sets.findIndex((set) => set.movement === step.movement);
  return place < 0 ? null : { dose, place };
}
