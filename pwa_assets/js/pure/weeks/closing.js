/**
 * What a whole course amounts to, for a page to keep: its mornings, activities and doses at first and at last. It counts and
 * compares nothing: what the log does not hold is null.
 *
 * @typedef {import("./past_days.js").PastDay} PastDay
 * @typedef {{middle: number, from: string, to: string}} Mornings the middle of some mornings in a row that were told, and their first and last day
 * @typedef {{on: string, dose: import("../../wire.js").ArmDose, workJ: number|null}} Asked what a day asked; workJ: in joules, null where it is not known
 * @typedef {{from: string, to: string|null}} Stretch days, both ends included; to: null where it still lasts
 * @typedef {{arm: string, mornings: [Mornings, Mornings]|null, doses: [Asked, Asked]|null, sessions: number, days: number, holds: Stretch[]}} ArmClosing
 *   mornings, doses: at first and at last; days: with a session
 */

import { addDays } from "../calendar/local_day.js";
import { holdsOf } from "./spans.js";

/** Own choice, no source: as many mornings as a week has; of fewer than four nothing is said. */
const [MOST, FEWEST] = [7, 4];

/**
 * @param {PastDay[]} days the whole course
 * @param {string} arm
 * @returns {ArmClosing}
 */
export function armClosing(days, arm) {
  const worked = days.filter((day) => day.arms[arm].sessions > 0);
  return {
    arm,
    mornings: morningsOf(days, arm),
    doses: dosesOf(days, arm),
    sessions: worked.reduce((all, day) => all + day.arms[arm].sessions, 0),
    days: worked.length,
    holds: holdsOf(days, arm).map(({ at, count, isOpen }) => ({
      from: days[at].on,
      to: isOpen ? null : addDays(days[at].on, count - 1),
    })),
  };
}

/** @param {PastDay[]} days @param {string} arm @returns {[Mornings, Mornings]|null} the first and the last ones that were told; no morning is in both */
function morningsOf(days, arm) {
  const known = days.filter((day) => day.arms[arm].morning !== null);
  const count = Math.min(MOST, Math.floor(known.length / 2));
  return count < FEWEST ? null : [middle(known.slice(0, count), arm), middle(known.slice(-count), arm)];
}

/** @param {PastDay[]} known @param {string} arm @returns {Mornings} of two in the middle the higher one */
function middle(known, arm) {
  const sorted = known.map((day) => Number(day.arms[arm].morning)).sort((first, second) => first - second);
  return { middle: sorted[Math.floor(sorted.length / 2)], from: known[0].on, to: known[known.length - 1].on };
}

/** @param {PastDay[]} days @param {string} arm @returns {[Asked, Asked]|null} of the first and the last session that tells what its day asked */
function dosesOf(days, arm) {
  const doses = days.flatMap(({ on, arms }) => {
    const { dose, workAskedJ } = arms[arm];
    return dose?.sets.length ? [{ on, dose, workJ: workAskedJ }] : [];
  });
  return doses.length ? [doses[0], doses[doses.length - 1]] : null;
}

/**
 * @param {import("./activities.js").Rating[]} ratings the oldest first
 * @param {string} to the last day that counts
 * @returns {{activity: string, first: import("./activities.js").Rating, last: import("./activities.js").Rating|null}[]} last: null where it was rated once
 */
export function activitiesClosing(ratings, to) {
  const rated = ratings.filter(({ on }) => on <= to);
  return [...new Set(rated.map(({ activity }) => activity))].map((activity) => {
    const own = rated.filter((rating) => rating.activity === activity);
    return { activity, first: own[0], last: own.length > 1 ? own[own.length - 1] : null };
  });
}
