/**
 * Stretches of days in a row: an arm that is stopped, the days without a session after a flare, days away that the client told of.
 *
 * @typedef {import("./past_days.js").PastDay} PastDay
 * @typedef {{held: boolean, resting: boolean}} Stretch resting: after a flare, with no session yet
 * @typedef {{at: number, count: number, isOpen: boolean}} Span at: the place of its first day; count: of its days; isOpen: it goes on beyond the last day
 */

/**
 * From each stop to the day before the arm may work again. A stop in days that are shown in part may have begun before them: then the
 * release alone is known, and nothing is said of the days before.
 * @param {PastDay[]} days
 * @param {string} arm
 * @returns {Span[]}
 */
export function holdsOf(days, arm) {
  /** @type {Span[]} */
  const spans = [];
  let since = -1;
  days.forEach((day, at) => {
    if (since >= 0 && day.released.includes(arm)) {
      if (at > since) spans.push({ at: since, count: at - since, isOpen: false });
      since = -1;
    }
    if (since < 0 && day.arms[arm].isSharp) since = at;
  });
  if (since >= 0) spans.push({ at: since, count: days.length - since, isOpen: true });
  return spans;
}

/** So long after a flare a day without a session is counted as rest; after that it is a gap like any other. Own choice. */
const LONGEST_REST = 7;

/**
 * The days from a flare to the next session. The log tells no more of a rest: what a day without a session asked, it does not hold.
 * @param {PastDay[]} days
 * @param {string} arm
 * @param {{flared: number, sharp: number}} lows the lowest rating of a flare, and of a stop
 * @returns {Span[]}
 */
export function restsOf(days, arm, { flared, sharp }) {
  return days.flatMap((day, at) => {
    const { morning, worst } = day.arms[arm];
    const value = Math.max(morning ?? 0, worst ?? 0);
    if (value < flared || value >= sharp) return [];
    // A morning is before that day's session, the worst of a session after it.
    const next = at + (morning === value ? 0 : 1);
    const count = days.slice(next).findIndex((each) => each.arms[arm].sessions > 0);
    if (count === 0 || count > LONGEST_REST) return [];
    const left = days.length - next;
    if (count < 0 && (left > LONGEST_REST || left === 0)) return [];
    return [{ at: next, count: count < 0 ? left : count, isOpen: count < 0 }];
  });
}

/**
 * @param {PastDay[]} days the whole course, as far as it is read
 * @param {string} arm
 * @param {{flared: number, sharp: number}} lows
 * @returns {Stretch[]} for each day; a hold stands above a rest
 */
export function stretchesOf(days, arm, lows) {
  const held = new Set(holdsOf(days, arm).flatMap(daysOf));
  const resting = new Set(restsOf(days, arm, lows).flatMap(daysOf));
  return days.map((_, at) => ({ held: held.has(at), resting: resting.has(at) && !held.has(at) }));
}

/** @param {Span} span @returns {number[]} the places of its days */
const daysOf = ({ at, count }) => Array.from({ length: count }, (_, more) => at + more);
