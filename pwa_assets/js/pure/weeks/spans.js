/**
 * Stretches of days in a row: an arm that is stopped, the days without a session after a flare, days away that the client told of.
 *
 * @typedef {import("./past_days.js").PastDay} PastDay
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
