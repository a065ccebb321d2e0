/**
 * A cue sheet on a timeline in milliseconds: what is due at any moment of it. Pure. A moment is computed from its time alone.
 *
 * @typedef {Omit<import("../../wire.js").Step, "load"> & {load: string|null, load_kg?: number, isGated?: boolean,
 *   isChanged?: boolean, isNarrowed?: boolean}} SheetStep
 * @typedef {SheetStep & {arm: string}} Step isGated: the session waits after each rep until the client says that it is done
 * @typedef {"ready"|"up"|"down"|"hold"|"rest"|"change"|"done"} Phase
 * @typedef {{step: number, phase: Phase, rep: number, reps: number, fraction: number, phaseMs: number, stepMs: number,
 *   stepFraction: number, secondsLeft: number}} Moment
 *   rep: from 1, 0 where nothing is counted; fraction: of the phase; secondsLeft: of the step, rounded up
 */

/** @type {Record<string, Phase>} */
const PHASES = {
  prepare: "ready",
  rest: "rest",
  change_arm: "change",
  hold: "hold",
  done: "done",
};
/** The tolerance as a part of a rep: some reps, such as three in ten seconds, have no exact length in milliseconds. */
const CLOSE = 1e-6;
const WORK = new Set(["warm_up", "reps", "hold"]);
/** A cache: every frame asks for the starts, and the same steps have the same starts. @type {WeakMap<Step[], number[]>} */
const STARTS = new WeakMap();

/** @param {Step} step @returns {boolean} whether the arm works in this step */
export const isWork = (step) => WORK.has(step.kind);

/**
 * @param {Step[]} steps
 * @returns {number[]} the start of each step in milliseconds, then the end of the session
 */
export function stepStarts(steps) {
  const known = STARTS.get(steps);
  if (known) return known;
  const starts = [0];
  for (const step of steps) starts.push(starts[starts.length - 1] + Math.round(step.seconds * 1000));
  STARTS.set(steps, starts);
  return starts;
}

/** @param {Step[]} steps @returns {number} milliseconds */
export const totalMs = (steps) => stepStarts(steps)[steps.length];

/**
 * Return what the session asks at a moment.
 * @param {Step[]} steps at least one
 * @param {number} ms on the timeline; it is limited to the session's length
 * @returns {Moment}
 */
export function stateAt(steps, ms) {
  const starts = stepStarts(steps);
  const at = Math.min(Math.max(ms, 0), starts[steps.length]);
  const index = stepIndexAt(starts, at);
  const lengthMs = starts[index + 1] - starts[index];
  const stepMs = at - starts[index];
  return {
    step: index,
    stepMs,
    stepFraction: lengthMs ? stepMs / lengthMs : 1,
    secondsLeft: Math.ceil((lengthMs - stepMs) / 1000),
    ...phaseOf(steps[index], stepMs, lengthMs),
  };
}

/** @param {number[]} starts @param {number} ms */
function stepIndexAt(starts, ms) {
  let index = 0;
  while (index < starts.length - 2 && starts[index + 1] <= ms) index += 1;
  return index;
}

/** @param {Step} step @param {number} stepMs @param {number} lengthMs */
function phaseOf(step, stepMs, lengthMs) {
  if (!step.reps) {
    const phase = PHASES[step.kind] ?? "ready";
    return {
      phase,
      rep: 0,
      reps: 0,
      phaseMs: lengthMs,
      fraction: lengthMs ? stepMs / lengthMs : 1,
    };
  }
  const { repMs, upMs } = repTimes(step);
  const done = Math.min(Math.floor(stepMs / repMs), step.reps - 1);
  const into = stepMs - done * repMs;
  const goesUp = into < upMs;
  const phaseMs = goesUp ? upMs : repMs - upMs;
  const fraction = Math.min((goesUp ? into : into - upMs) / phaseMs, 1);
  return {
    phase: /** @type {Phase} */ (goesUp ? "up" : "down"),
    rep: done + 1,
    reps: step.reps,
    phaseMs,
    fraction,
  };
}

/**
 * @param {Step} step with reps
 * @returns {{repMs: number, upMs: number}} the length of a rep, and of its way up
 */
export function repTimes({ seconds, reps, up, down }) {
  const repMs = (seconds * 1000) / reps;
  return {
    repMs,
    upMs: up + down > 0 ? (repMs * up) / (up + down) : repMs / 2,
  };
}

/**
 * @param {Step} step
 * @param {number} ms from its start; it is limited to the step's length
 * @returns {number} the whole reps that are finished by then; 0 for a step without reps
 */
export function repsIn(step, ms) {
  if (!step.reps) return 0;
  const finished = Math.floor(ms / repTimes(step).repMs + CLOSE);
  return Math.min(step.reps, Math.max(0, finished));
}

/**
 * Return how long until the display changes: at the next step, the next turn of a rep, or the next second of a countdown.
 * @param {Step[]} steps
 * @param {number} ms
 * @returns {number} milliseconds, above 0
 */
export function msToNext(steps, ms) {
  const moment = stateAt(steps, ms);
  const length = steps[moment.step].seconds * 1000;
  const left = length - moment.stepMs;
  const toTurn = moment.rep ? moment.phaseMs * (1 - moment.fraction) : left % 1000 || 1000;
  return Math.max(1, Math.min(left || 1000, toTurn));
}

/**
 * @param {Step[]} steps
 * @param {number} ms
 * @returns {number} milliseconds until the next step comes by itself; Infinity where a gate or the end comes first
 */
export function msToStep(steps, ms) {
  const starts = stepStarts(steps);
  const next = starts.findIndex((at) => at > ms);
  const isSure = next > 0 && next < steps.length && starts[next] < gateAfter(steps, ms);
  return isSure ? starts[next] - ms : Number.POSITIVE_INFINITY;
}

/**
 * Return the next gate: time stands still there until the client says that the rep is done. A gate lies one millisecond before
 * the end of a rep.
 * @param {Step[]} steps
 * @param {number} ms
 * @returns {number} milliseconds on the timeline; Infinity where no gate is ahead
 */
export function gateAfter(steps, ms) {
  const { step, stepMs } = stateAt(steps, ms);
  const at = steps.findIndex(({ isGated }, i) => i >= step && isGated);
  if (at < 0) return Number.POSITIVE_INFINITY;
  const { repMs } = repTimes(steps[at]);
  const done = at === step ? Math.min(Math.floor(stepMs / repMs), steps[at].reps - 1) : 0;
  return stepStarts(steps)[at] + (done + 1) * repMs - 1;
}
