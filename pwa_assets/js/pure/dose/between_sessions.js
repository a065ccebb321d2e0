/**
 * The time between two sessions of one day: when the next one may begin. It only compares times; the hours are the core's and come
 * with the bundle. Too early is said, and not forbidden.
 *
 * @typedef {{now: number, hourOn(day: string, ms: number): number}} Time now: ms since the epoch; hourOn: hours from the midnight
 *   with which a day begins, on the clock of the place where the phone is now: 24.5 is half past twelve at night
 * @typedef {{after: number, from: number, isTooLate: boolean, isUnknown: boolean}} Wait after, from: ms, when the last session was
 *   saved and when the next may begin; isTooLate: it is better left today; isUnknown: the last session is later than now, so a clock
 *   was changed, and nobody knows how long ago it was
 */

import { eventsOn } from "./daybook.js";

const HOUR_MS = 3_600_000;

/**
 * @param {import("../../wire.js").Bundle} bundle
 * @param {import("./daybook.js").Event[]} events
 * @param {Pick<import("./today.js").ArmDay, "arm"|"isOffered"|"done"|"facts">} day
 * @param {string} today
 * @param {Time} time
 * @returns {Wait|null} null where the arm need not wait
 */
export function waitOf(bundle, events, { arm, isOffered, done, facts }, today, { now, hourOn }) {
  // The work after sport is the other half of one session.
  if (!isOffered || done === 0 || done === facts.warmed || !bundle.apart) return null;
  const ended = eventsOn(events, "session_finished", today).filter(({ body }) => isWhole(body, arm));
  const after = Math.max(...ended.map(({ at }) => Date.parse(at)));
  const from = after + bundle.apart.hours * HOUR_MS;
  const isUnknown = after > now;
  const isTooLate = hourOn(today, Math.max(now, from)) > bundle.apart.latest && !isUnknown;
  return now < from || isTooLate ? { after, from, isTooLate, isUnknown } : null;
}

/** @param {import("../../wire.js").SessionBody} body @param {string} arm */
function isWhole({ arms, ways = [] }, arm) {
  return Boolean(arms[arm]?.sets.some(({ reps }) => reps > 0)) && !ways.includes("before_sport");
}
