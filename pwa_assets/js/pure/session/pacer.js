/**
 * The position of the hand at a moment of the session: the drawing sets the pace. Pure.
 *
 * @typedef {import("./timeline.js").Step} Step
 * @typedef {import("./timeline.js").Moment} Moment
 * @typedef {import("../drawing/drawn_movements.js").Drawn} Drawn
 * @typedef {{bend: number, swing: number, open: number, mark: number, ran: number}} Turned
 *   bend, swing: degrees of the wrist; open: 0 to 1, of the fingers; mark: the position of the moving dot, in degrees on the
 *   arc or on the loop; ran: 0 to 1, the part of a hold that is over
 */

/** How long the hand takes to come into a stretch. */
const INTO_HOLD_MS = 3000;
const LOOSE_BEND = -6;

/**
 * @param {Drawn} drawn
 * @param {Step} step
 * @param {Moment} moment of that step, or of the pause before it
 * @param {boolean} [inSteps] for reduced motion: one position each second
 * @returns {Turned}
 */
export function turnedAt(drawn, step, moment, inSteps = false) {
  if (drawn.way === "stretch") return stretched(drawn, step, moment, inSteps);
  if (drawn.way === "circle") return circled(drawn, step, moment, inSteps);
  const lifted = travel(moment, inSteps);
  if (drawn.way === "fingers") return { bend: LOOSE_BEND, swing: 0, open: lifted, mark: 0, ran: 0 };
  const { top, bottom } = marksOf(drawn, step.range);
  const bend = bottom + (top - bottom) * lifted;
  return { bend, swing: 0, open: 0, mark: bend, ran: 0 };
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
 * @param {Moment} moment
 * @param {boolean} inSteps
 * @returns {number} 0 at the bottom mark, 1 at the top
 */
function travel({ phase, fraction, phaseMs }, inSteps) {
  if (phase !== "up" && phase !== "down") return 0;
  const part = inSteps ? stepped(fraction, phaseMs) : smooth(fraction);
  return phase === "up" ? part : 1 - part;
}

/** @param {Drawn} drawn @param {Step} step @param {Moment} moment @param {boolean} inSteps @returns {Turned} */
function circled(drawn, { range }, { phase, fraction, phaseMs }, inSteps) {
  const part = inSteps ? stepped(fraction, phaseMs) : fraction;
  const mark = phase === "up" ? part * 180 : phase === "down" ? 180 + part * 180 : 0;
  return { ...onLoop(drawn, range, mark), open: 0, mark, ran: 0 };
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

/** @param {Drawn} drawn @param {Step} step @param {Moment} moment @param {boolean} inSteps @returns {Turned} */
function stretched(drawn, { range }, { phase, stepMs, stepFraction, secondsLeft, phaseMs }, inSteps) {
  const into = phase === "hold" ? Math.min(stepMs / INTO_HOLD_MS, 1) : 0;
  const bend = -drawn.down * range * (inSteps ? Math.ceil(into) : smooth(into));
  const whole = phaseMs / 1000;
  const ran = inSteps ? (whole - secondsLeft) / whole : stepFraction;
  return {
    bend,
    swing: 0,
    open: 1,
    mark: bend,
    ran: phase === "hold" ? ran : 0,
  };
}

/** @param {number} part */
const smooth = (part) => (1 - Math.cos(Math.PI * part)) / 2;

/** @param {number} part @param {number} ms @returns {number} the position at the end of the current second */
function stepped(part, ms) {
  const seconds = Math.max(1, Math.round(ms / 1000));
  return Math.min(1, (Math.floor(part * seconds + 1e-6) + 1) / seconds);
}
