/**
 * What the weeks so far amount to: where the mornings began and are now, and days worth knowing. Only what the log holds is told.
 *
 * @typedef {import("./past_days.js").PastDay} PastDay
 * @typedef {"heavier"|"calm_week"|"flare"|"flare_rest"|"flare_eased"|"full_range"|"stopped"|"released"|"away"|"version"} MilestoneKind
 * @typedef {{number: number, on: string, arm: string|null, kind: MilestoneKind, value: number, days: number}} Milestone
 *   number: of its day; arm: null where it is about no arm; value: kilograms of `heavier`, the rating of a flare, the version;
 *   days: without a session, of `away` and after a flare
 */

import { calmOf, lowOf } from "./bands.js";

const WEEK = 7;
const WHOLE_RANGE = 1;

/**
 * @param {PastDay[]} days the whole course, up to today
 * @param {string} arm
 * @param {number} fewest reports of a week that say something about it, from the bundle
 * @returns {{first: number, now: number}|null} the middle morning of the first week and of the last seven days; null before two
 *   weeks are over, and where one of the two has too few reports
 */
export function thenAndNow(days, arm, fewest) {
  if (days.length < 2 * WEEK) return null;
  const [first, now] = [days.slice(0, WEEK), days.slice(-WEEK)].map((week) => middle(morningsOf(week, arm), fewest));
  return first === null || now === null ? null : { first, now };
}

/** @param {PastDay[]} days @param {string} arm @returns {number[]} */
const morningsOf = (days, arm) => days.flatMap(({ arms }) => arms[arm]?.morning ?? []);

/** @param {number[]} ratings @param {number} fewest @returns {number|null} of two in the middle the higher one */
function middle(ratings, fewest) {
  if (ratings.length < fewest) return null;
  return [...ratings].sort((first, second) => first - second)[Math.floor(ratings.length / 2)];
}

/**
 * @param {PastDay[]} days the whole course, up to today
 * @param {string[]} arms
 * @param {import("./bands.js").Band[]} bands
 * @returns {Milestone[]} the latest first
 */
export function milestones(days, arms, bands) {
  const found = arms.flatMap((arm) => [
    ...heavier(days, arm),
    ...calmWeek(days, arm, calmOf(bands)),
    ...flares(days, arm, lowOf(bands, "flared"), lowOf(bands, "sharp")),
    ...fullRange(days, arm),
    ...stops(days, arm),
  ]);
  return [...found, ...away(days, arms), ...versions(days)].sort((first, second) => second.number - first.number);
}

/** @param {PastDay} day @param {MilestoneKind} kind @param {string|null} arm @param {number} [value] @param {number} [count] @returns {Milestone} */
const milestone = ({ number, on }, kind, arm, value = 0, count = 0) => ({ number, on, arm, kind, value, days: count });

/** @param {PastDay} day @param {string} arm @returns {number} the heaviest weight that was asked, in kg; 0 where that is not known */
const loadOf = (day, arm) => Math.max(0, ...(day.arms[arm]?.dose?.sets ?? []).map(({ load_kg }) => load_kg));

/** @param {PastDay} day @param {string} arm */
const rangeOf = (day, arm) => day.arms[arm]?.dose?.sets[0]?.range ?? null;

/** @param {PastDay[]} days @param {string} arm */
function heavier(days, arm) {
  let heaviest = -1;
  return days.flatMap((day) => {
    if (!day.arms[arm]?.dose || loadOf(day, arm) <= heaviest) return [];
    const isFirst = heaviest < 0;
    heaviest = loadOf(day, arm);
    return isFirst ? [] : [milestone(day, "heavier", arm, heaviest)];
  });
}

/** The first time that seven mornings in a row were calm. @param {PastDay[]} days @param {string} arm @param {number} calm */
function calmWeek(days, arm, calm) {
  let inRow = 0;
  for (const day of days) {
    const { morning } = day.arms[arm];
    inRow = morning !== null && morning <= calm ? inRow + 1 : 0;
    if (inRow === WEEK) return [milestone(day, "calm_week", arm, calm)];
  }
  return [];
}

/**
 * Numbers from where a day flares, each with what the log shows of the days after it.
 * @param {PastDay[]} days @param {string} arm @param {number} low @param {number} sharp
 */
function flares(days, arm, low, sharp) {
  return days.flatMap((day, at) => {
    const { morning, worst } = day.arms[arm];
    const value = Math.max(morning ?? 0, worst ?? 0);
    if (value < low || value >= sharp) return [];
    // A morning is before that day's session, the worst of a session after it.
    const next = at + (morning === value ? 0 : 1);
    const rest = days.slice(next).findIndex((each) => each.arms[arm].sessions > 0);
    if (rest <= 0 || rest > WEEK) return [milestone(day, "flare", arm, value)];
    const before = days.slice(0, next).findLast((each) => rangeOf(each, arm) !== null);
    const isEased = before && (rangeOf(days[next + rest], arm) ?? WHOLE_RANGE) < (rangeOf(before, arm) ?? 0);
    return [milestone(day, isEased ? "flare_eased" : "flare_rest", arm, value, rest)];
  });
}

/** @param {PastDay[]} days @param {string} arm */
function fullRange(days, arm) {
  let wasEased = false;
  return days.flatMap((day) => {
    const range = rangeOf(day, arm);
    const isBack = wasEased && range === WHOLE_RANGE;
    if (range !== null) wasEased = range < WHOLE_RANGE;
    return isBack ? [milestone(day, "full_range", arm)] : [];
  });
}

/** @param {PastDay[]} days @param {string} arm */
const stops = (days, arm) =>
  days.flatMap((day) => [
    ...(day.arms[arm].isSharp ? [milestone(day, "stopped", arm)] : []),
    ...(day.released.includes(arm) ? [milestone(day, "released", arm)] : []),
  ]);

/** A week or more without a session of any arm, once it is over. @param {PastDay[]} days @param {string[]} arms */
function away(days, arms) {
  let gap = -1;
  return days.flatMap((day) => {
    const isWorked = arms.some((arm) => day.arms[arm].sessions > 0);
    const before = gap;
    if (isWorked) gap = 0;
    else if (gap >= 0) gap += 1;
    return isWorked && before >= WEEK ? [milestone(day, "away", null, 0, before)] : [];
  });
}

/** @param {PastDay[]} days */
const versions = (days) =>
  days.flatMap((day, at) => (at > 0 && day.version ? [milestone(day, "version", null, day.version)] : []));
