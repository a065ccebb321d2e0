/**
 * Sessions without a rating of the worst discomfort, and the corrections that add it. Pure.
 *
 * @typedef {import("./daybook.js").Event} Event
 */

import { eventsOn } from "./daybook.js";

/**
 * @param {Event[]} events
 * @param {string} on
 * @param {string[]} arms
 * @returns {string[]} the arms that did reps on that day in a session without a rating
 */
export function unratedArms(events, on, arms) {
  const sessions = eventsOn(events, "session_finished", on);
  return arms.filter((arm) => sessions.some(({ body }) => isUnrated(body.arms[arm])));
}

/**
 * Return the bodies of `entry_corrected` that add the missing ratings of a day; each repeats the whole body of its session.
 * @param {Event[]} events
 * @param {string} on
 * @param {Record<string, number|null>} worst by arm; an arm whose value is null stays unrated
 * @returns {{replaces: string, body: import("../../wire.js").SessionBody}[]}
 */
export function ratedBodies(events, on, worst) {
  return eventsOn(events, "session_finished", on).flatMap(({ id, body }) => {
    const open = Object.keys(body.arms).filter((arm) => isUnrated(body.arms[arm]) && isRating(worst[arm]));
    if (open.length === 0) return [];
    const rated = open.map((arm) => [arm, { ...body.arms[arm], worst: worst[arm] }]);
    return [{ replaces: id, body: { ...body, arms: { ...body.arms, ...Object.fromEntries(rated) } } }];
  });
}

/** @param {number|null|undefined} rating */
const isRating = (rating) => rating !== null && rating !== undefined;

/** @param {{worst?: number|null, sharp?: boolean, sets: {reps: number}[]}|undefined} own what a session says of one arm */
function isUnrated(own) {
  return Boolean(own && !own.sharp && !isRating(own.worst) && own.sets.some(({ reps }) => reps > 0));
}
