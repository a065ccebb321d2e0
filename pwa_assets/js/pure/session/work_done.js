/**
 * What an arm did in a session, set by set, and which share of the day's asked work that is. Pure. The work of a rep comes from
 * the bundle's table.
 *
 * @typedef {import("./run.js").Run} Run
 * @typedef {import("./timeline.js").Step} Step
 * @typedef {import("../../wire.js").Bundle["rep_work"]} RepWork by movement: rows of kilograms, range, and joules of a rep
 * @typedef {import("../../wire.js").PlayedSet} PlayedSet share: of the work that the day asks of this movement, per mille
 */

const WHOLE_SHARE = 1000;
const CLOSE = 1e-9;

/**
 * @param {Run} run
 * @param {string} arm
 * @returns {PlayedSet[]} one for each set of the arm's dose, in its order; a set that was left out has 0 reps
 */
export function playedSets(run, arm) {
  const { arms, repWork } = run.plan;
  const dose = arms.find((planned) => planned.arm === arm)?.dose;
  if (!dose) return [];
  return dose.sets.map((set) => {
    const played = playedSet(run, arm, set);
    return { ...played, share: shareOf(repWork, played, set, dose.sessions) };
  });
}

/**
 * @param {Run} run
 * @param {string} arm
 * @returns {import("../../wire.js").ArmDose|undefined} what the day asked of the arm; nothing where the plan asks nothing of it
 */
export function doseOf({ plan }, arm) {
  const dose = plan.arms.find((planned) => planned.arm === arm)?.dose;
  if (!dose) return undefined;
  const sets = dose.sets.map(({ movement, reps, load_kg, range }) => ({ movement, reps, load_kg, range }));
  return { sessions: dose.sessions, sets };
}

/**
 * @param {Run} run
 * @param {string} arm
 * @param {import("../../wire.js").DoseSet} doseSet the set of the dose
 * @returns {Omit<PlayedSet, "share">} as it was played
 */
function playedSet(run, arm, doseSet) {
  const { movement } = doseSet;
  const index = run.plan.steps.findIndex(
    (step) => step.kind === "reps" && step.movement === movement && (step.arm === arm || step.arm === "both"),
  );
  const { load_kg = doseSet.load_kg, range = doseSet.range } = run.plan.steps[index] ?? {};
  return { movement, reps: repsOf(run, index), load_kg, range };
}

/** @param {Run} run @param {number} index of a step, -1 for none @returns {number} the whole reps of it that were done */
function repsOf({ plan, done, reps }, index) {
  const repsAsked = plan.steps[index]?.reps ?? 0;
  return done.includes(index) ? repsAsked : Math.min(repsAsked, reps[index] ?? 0);
}

/**
 * @param {RepWork} repWork
 * @param {Omit<PlayedSet, "share">} played
 * @param {import("../../wire.js").DoseSet} doseSet the set of the dose
 * @param {number} sessions that the day asks
 * @returns {number} per mille, at most 1000; it is computed from reps alone where the asked set has a work of 0
 */
function shareOf(repWork, played, doseSet, sessions) {
  const whole = doseSet.reps * joulesOf(repWork, doseSet) * sessions;
  const share = whole > 0 ? (played.reps * joulesOf(repWork, played)) / whole : played.reps / (doseSet.reps * sessions);
  return Math.min(WHOLE_SHARE, Math.round(share * WHOLE_SHARE));
}

/**
 * @param {RepWork} repWork
 * @param {{movement: string, load_kg: number, range: number}} set
 * @returns {number} joules of a rep
 */
export function joulesOf(repWork, { movement, load_kg, range }) {
  const isSame = (/** @type {number} */ first, /** @type {number} */ second) => Math.abs(first - second) <= CLOSE;
  const entry = repWork[movement]?.find(([load, share]) => isSame(load, load_kg) && isSame(share, range));
  if (!entry) throw new RangeError(`no work of a rep of ${movement} with ${load_kg} kg at ${range} of the range`);
  return entry[2];
}
