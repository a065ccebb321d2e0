/**
 * The position of the hand at a moment of the session: the drawing sets the pace. Pure.
 *
 * @typedef {import("./timeline.js").Step} Step
 * @typedef {import("./timeline.js").Moment} Moment
 * @typedef {import("../drawing/drawn_movements.js").Drawn} Drawn
 * @typedef {{bend: number, swing: number, open: number, mark: number, ahead: 1|-1|0, time: {part: number, seconds: number}|null}} Turned
 *   bend, swing: degrees of the wrist; open: 0 to 1, of the fingers; mark: the position of the arrow, in degrees on the rim or on
 *   the loop; ahead: whether the arrow points up, down or is not shown; time: the part of a hold or a rest that is over, and its length
 */

/** How long the hand takes to come into a stretch. */
const INTO_HOLD_MS = 3000;
const LOOSE_BEND = -6;
/** The arrow is where the hand will be after this part of a way. */
const AHEAD = 0.14;

/**
 * @param {Drawn} drawn
 * @param {Step} step
 * @param {Moment} moment of that step, or of the pause before it
 * @param {boolean} [isStill] for reduced motion: two positions, swapped at the turn
 * @returns {Turned}
 */
export function turnedAt(drawn, step, moment, isStill = false) {
  const time = timeOf(moment, isStill);
  if (drawn.way === "stretch") return { ...stretched(drawn, step, moment, isStill), time };
  if (drawn.way === "circle") return { ...circled(drawn, step, moment, isStill), time };
  const lifted = travel(moment, isStill);
  if (drawn.way === "fingers") return { bend: LOOSE_BEND, swing: 0, open: lifted, mark: 0, ahead: 0, time };
  const { top, bottom } = marksOf(drawn, step.range);
  const at = (/** @type {number} */ part) => bottom + (top - bottom) * part;
  const mark = at(travel({ ...moment, fraction: Math.min(1, moment.fraction + AHEAD) }, isStill));
  return { bend: at(lifted), swing: 0, open: 0, mark, ahead: AHEADS[moment.phase] ?? 0, time };
}

/** @type {Partial<Record<Moment["phase"], 1|-1>>} */
const AHEADS = { up: 1, down: -1 };

/**
 * @param {Moment} moment
 * @param {boolean} isStill
 * @returns {Turned["time"]} null where reps are counted, or nothing runs yet
 */
function timeOf({ phase, phaseMs, secondsLeft, stepFraction }, isStill) {
  if (phase !== "hold" && phase !== "rest" && phase !== "change") return null;
  const seconds = phaseMs / 1000;
  return { seconds, part: isStill ? (seconds - secondsLeft) / seconds : stepFraction };
}

/**
 * Return the two ends of the day's range.
 * @param {Drawn} drawn
 * @param {number} range 0 to 1, the part of the full range
 * @returns {{top: number, bottom: number}} degrees from level
 */
export function marksOf(drawn, range) {
  return { top: drawn.up * range, bottom: -drawn.down * range };
}

/**
 * Return how far up the hand is.
 * @param {Pick<Moment, "phase"|"fraction">} moment
 * @param {boolean} isStill
 * @returns {number} 0 at the bottom mark, 1 at the top
 */
function travel({ phase, fraction }, isStill) {
  if (phase !== "up" && phase !== "down") return 0;
  const part = isStill ? 1 : smooth(fraction);
  return phase === "up" ? part : 1 - part;
}

/** @param {Drawn} drawn @param {Step} step @param {Moment} moment @param {boolean} isStill @returns {Omit<Turned, "time">} */
function circled(drawn, { range }, { phase, fraction }, isStill) {
  const part = isStill ? 1 : fraction;
  const at = phase === "up" ? part * 180 : phase === "down" ? 180 + part * 180 : 0;
  return { ...onLoop(drawn, range, at), open: 0, mark: at + 180 * AHEAD, ahead: AHEADS[phase] ?? 0 };
}

/**
 * Return the two angles of the wrist at a point on the loop of a circling hand.
 * @param {Drawn} drawn
 * @param {number} range
 * @param {number} degrees 0 at the bottom
 * @returns {{bend: number, swing: number}}
 */
export function onLoop(drawn, range, degrees) {
  const angle = (degrees * Math.PI) / 180;
  return {
    bend: -drawn.down * range * Math.cos(angle),
    swing: (drawn.first ?? 1) * drawn.down * range * Math.sin(angle),
  };
}

/** @param {Drawn} drawn @param {Step} step @param {Moment} moment @param {boolean} isStill @returns {Omit<Turned, "time">} */
function stretched(drawn, { range }, { phase, stepMs }, isStill) {
  const into = phase === "hold" ? Math.min(stepMs / INTO_HOLD_MS, 1) : 0;
  const bend = -drawn.down * range * (isStill && phase === "hold" ? 1 : smooth(into));
  return { bend, swing: 0, open: 1, mark: bend, ahead: 0 };
}

/** @param {number} part */
const smooth = (part) => (1 - Math.cos(Math.PI * part)) / 2;
