/**
 * The day's decision, by look-up alone: cube, then almanac, then dose. There is no dosing rule here.
 * Everything comes from the bundle that the server compiled; a fact that the tables do not know throws.
 *
 * @typedef {{sessions: number, warmed?: number, during: number|null, morning: number|null, sharp: boolean}} Facts
 * @typedef {{on: string, before: number|null, states: number[], why?: string[][]}} Anchor
 * @typedef {{state: number, dose: any, why: string[], responseYesterday: string, before: number|null,
 *   responseToday: string, isHeldNow: boolean, hasEnded: boolean}} Day
 */

import { addDays, daysBetween } from "./local_day.js";

const LETTERS = { s: "settled", t: "tender", f: "flared", x: "sharp", u: "unreported", m: "missed" };
const RATINGS = 12;

/** @type {Facts} */
export const NOTHING_YET = { sessions: 0, during: null, morning: null, sharp: false };

/**
 * How a day went.
 * @param {{cube: string}} bundle
 * @param {Facts} facts of that day; `morning` is the morning after it
 * @param {number|null} before the last morning known before that one
 * @returns {string} one of the six responses
 */
export function responseOf(bundle, facts, before) {
  if (facts.sharp) return "sharp";
  const during = facts.sessions === 0 ? 0 : facts.during === null ? 1 : facts.during + 2;
  const cell = (during * RATINGS + axis(facts.morning)) * RATINGS + axis(before);
  const response = LETTERS[/** @type {keyof typeof LETTERS} */ (bundle.cube[cell])];
  if (!response) throw new RangeError(`cube cell ${cell} holds no response`);
  return response;
}

/** @type {WeakMap<object, number[][]>} */
const opened = new WeakMap();

/**
 * The next state by response and state; on the wire each is told by its distance from the one before it.
 * @param {{next: number[][]}} almanac
 * @returns {number[][]}
 */
function columnsOf(almanac) {
  const known = opened.get(almanac);
  if (known) return known;
  const columns = almanac.next.map((steps) => {
    let at = 0;
    return steps.map((step) => (at += step));
  });
  opened.set(almanac, columns);
  return columns;
}

/**
 * The state that follows a response, and the rules that led there.
 * @param {any} bundle
 * @param {number} state place in the almanac
 * @param {string} response
 * @returns {{state: number, why: string[]}}
 */
export function nextOf(bundle, state, response) {
  const { almanac } = bundle;
  const column = almanac.responses.indexOf(response);
  const next = columnsOf(almanac)[column]?.[state];
  if (!Number.isInteger(next)) throw new RangeError(`almanac has no next of ${state} by ${response}`);
  return { state: next, why: almanac.whys[almanac.why[state]][column] };
}

/**
 * The dose of a state.
 * @param {any} bundle
 * @param {number} state
 * @returns {any}
 */
export function doseOf(bundle, state) {
  return bundle.doses[bundle.almanac.dose[state]];
}

/**
 * What the practice's release makes of a state at the start of a day: only a hold can be released.
 * @param {any} bundle
 * @param {{state: number, why: string[]}} at
 * @param {number|undefined} rung from 1; above the top it is the top
 * @returns {{state: number, why: string[]}}
 */
export function releasedFrom({ almanac }, at, rung) {
  if (rung === undefined || almanac.mode[at.state] !== "held") return at;
  return { state: almanac.released[Math.min(rung, almanac.released.length) - 1], why: ["released"] };
}

/**
 * One arm's day, followed from the last day that the server vouched for.
 * @param {any} bundle
 * @param {Anchor} anchor state at the start of a day, for each response of the day before it
 * @param {Map<string, Facts>} factsByDay
 * @param {string} today not before the anchor's day
 * @param {Map<string, number>} [releases] rung by the day at whose start a hold ends
 * @returns {Day}
 */
export function follow(bundle, anchor, factsByDay, today, releases = new Map()) {
  let { day, state, why, response, before } = atAnchor(bundle, anchor, factsByDay, releases);
  for (let left = daysBetween(day, today); left > 0; left -= 1) {
    const facts = factsByDay.get(day) ?? NOTHING_YET;
    response = responseOf(bundle, facts, before);
    day = addDays(day, 1);
    ({ state, why } = releasedFrom(bundle, nextOf(bundle, state, response), releases.get(day)));
    before = facts.morning ?? before;
  }
  return { ...soFar(bundle, state, factsByDay.get(today), before), why, responseYesterday: response };
}

/**
 * @param {any} bundle
 * @param {Anchor} anchor
 * @param {Map<string, Facts>} factsByDay
 * @param {Map<string, number>} releases after a sharp day the server leaves them to the phone, which knows the entries
 */
function atAnchor(bundle, anchor, factsByDay, releases) {
  const facts = factsByDay.get(addDays(anchor.on, -1)) ?? NOTHING_YET;
  const response = responseOf(bundle, facts, anchor.before);
  const column = bundle.almanac.responses.indexOf(response);
  const given = { state: anchor.states[column], why: anchor.why?.[column] ?? [] };
  const at = response === "sharp" ? releasedFrom(bundle, given, releases.get(anchor.on)) : given;
  return { ...at, day: anchor.on, response, before: facts.morning ?? anchor.before };
}

/**
 * What today's own reports already say, before tomorrow's morning is known.
 * @param {any} bundle
 * @param {number} state
 * @param {Facts|undefined} facts
 * @param {number|null} before
 */
function soFar(bundle, state, facts, before) {
  const responseToday = responseOf(bundle, { ...(facts ?? NOTHING_YET), morning: null }, before);
  const dose = doseOf(bundle, state);
  return {
    state,
    dose,
    before,
    responseToday,
    isHeldNow: responseToday === "sharp" || dose.mode === "held",
    hasEnded: bundle.ends_day.includes(responseToday),
  };
}

/** @param {number|null} rating */
function axis(rating) {
  return rating === null ? 0 : rating + 1;
}
