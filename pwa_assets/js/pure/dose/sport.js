/** Sport on the way back, as the daybook counts it: its worst counts like that of a session, and near it nothing else goes up. */

import { addDays } from "../calendar/local_day.js";

/** Days on which nothing else goes up: that of sport on the way back; after a step up also those within 72 hours. */
const NEAR_SPORT = 1;
const NEAR_STEP_UP = 3;

/** @param {Map<string, {sport?: import("./almanac.js").Sport|null}>} days @returns {Set<string>} the days on which nothing else goes up */
export function nearSport(days) {
  const found = [...days].flatMap(([on, { sport }]) => {
    const length = sport ? (sport.hasSteppedUp ? NEAR_STEP_UP : NEAR_SPORT) : 0;
    return Array.from({ length }, (_, number) => addDays(on, number));
  });
  return new Set(found);
}

/** @param {any} body of an exposure @param {string} arm @returns {boolean} whether it is sport on the way back that names the arm */
export function isOnTheWay(body, arm) {
  return body.what === "sport" && body.step !== undefined && body.arms[arm] !== undefined;
}

/** @param {any} body @param {string} arm @returns {{during: number|null, sharp: boolean, sport: import("./almanac.js").Sport}} */
export function knownFromSport({ minutes, up = false, amount = "asked", strokes = null, arms }, arm) {
  const { worst = null, sharp = false } = arms[arm];
  const hasSteppedUp = up || amount === "more";
  const sport = { minutes: minutes ?? 0, worst, isUnrated: worst === null, hasSteppedUp, amount, strokes };
  return { during: worst, sharp, sport };
}

/**
 * @param {import("./almanac.js").Sport|null} first
 * @param {import("./almanac.js").Sport|null} second
 */
export function bothSports(first, second) {
  if (!first || !second) return first ?? second;
  return {
    minutes: first.minutes + second.minutes,
    worst: worse(first.worst, second.worst),
    isUnrated: first.isUnrated || second.isUnrated,
    hasSteppedUp: first.hasSteppedUp || second.hasSteppedUp,
    amount: moreOf([first.amount, second.amount]),
    strokes: first.strokes === null ? second.strokes : first.strokes + (second.strokes ?? 0),
  };
}

/** How much sport was beside what its step asks. */
const AMOUNTS = ["fewer", "asked", "more"];

/** @param {string[]} amounts @returns {string} the largest */
export const moreOf = (amounts) => AMOUNTS[Math.max(...amounts.map((amount) => AMOUNTS.indexOf(amount)))];

/**
 * @param {number|null} first
 * @param {number|null} second
 */
export function worse(first, second) {
  return first === null ? second : second === null ? first : Math.max(first, second);
}
