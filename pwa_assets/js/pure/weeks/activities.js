/**
 * The client's own activities: which are asked about, when, and how each was rated, 0 (not at all) to 10 (as before). After the
 * patient-specific functional scale; the server's `events/activities.py` reads the log alike. It changes no dose.
 *
 * @typedef {import("../dose/daybook.js").Event} Event
 * @typedef {{on: string, activity: string, rating: number}} Rating
 */

import { daysBetween } from "../calendar/local_day.js";
import { correctedEntries } from "../dose/corrections.js";
import { ofKind } from "./past_days.js";

const WEEK = 7;

/** @param {Event[]} events @returns {Event[]} after corrections, the oldest first */
const inOrder = (events) => [...correctedEntries(events)].sort((first, second) => compare(keyOf(first), keyOf(second)));

/** @param {Event} event */
const keyOf = ({ on, at, id }) => `${on} ${at} ${id}`;

/** @param {string} first @param {string} second */
const compare = (first, second) => (first < second ? -1 : first > second ? 1 : 0);

/** @param {Event[]} events @returns {string[]} those that the practice named last, else those of the client's own intake */
export function activitiesIn(events) {
  const named = ofKind(inOrder(events), "activities_named").at(-1);
  return named ? named.body.activities : toldIn(events).map(({ activity }) => activity);
}

/** @param {Event[]} events @returns {Rating[]} every rating, the oldest first; those of the intake are the first */
export function ratingsIn(events) {
  const rated = ofKind(inOrder(events), "activity_rated").map(({ on, body }) => ({ on, ...body }));
  return [...toldIn(events), ...rated].sort((first, second) => compare(first.on, second.on));
}

/** @param {Event[]} events @returns {Rating[]} of the client's last own intake */
function toldIn(events) {
  /** @type {any} */
  const intake = inOrder(events).findLast(({ kind }) => String(kind) === "intake_told");
  const activities = Array.isArray(intake?.body.activities) ? intake.body.activities : [];
  return activities
    .filter((/** @type {any} */ each) => typeof each?.name === "string" && Number.isInteger(each.rating))
    .map((/** @type {any} */ { name, rating }) => ({ on: intake.on, activity: name, rating }));
}

/** @param {string} first the first day of the course @param {string} today @returns {number} the week of the course, from 0 */
export const weekOf = (first, today) => Math.floor(daysBetween(first, today) / WEEK);

/**
 * Which activity is asked about today: the first one once in each week of the course, the others once from each of their weeks on.
 * @param {Event[]} events
 * @param {string} first the first day of the course
 * @param {string} today
 * @param {readonly number[]} weeksAsked the weeks of the course in which all but the first activity are asked about, from the bundle
 * @returns {string|null}
 */
export function activityDue(events, first, today, weeksAsked) {
  const [week, ratings] = [weekOf(first, today), ratingsIn(events)];
  const due = activitiesIn(events).find((activity, at) => {
    const last = ratings.findLast((rating) => rating.activity === activity);
    const since = at === 0 ? week : Math.max(...weeksAsked.filter((each) => each <= week));
    return activity !== "" && (!last || weekOf(first, last.on) < since);
  });
  return due ?? null;
}
