/**
 * What tomorrow depends on: the few different doses that tomorrow can bring, and the ratings that lead to each of them.
 * It looks up every rating in the tables, and knows no rule about ratings.
 *
 * @typedef {{low: number, high: number}} Span ratings, both ends included
 * @typedef {{response: string, dose: import("../../wire.js").Dose}} Outcome
 * @typedef {{dose: import("../../wire.js").Dose, during: Span|null, morning: Span|null, isBest: boolean, orNoReport: boolean}} Branch
 *   in the best branch both `during` and `morning` must be met; in the others one of them is enough
 */

import { asks } from "./dose_change.js";
import { tomorrowIf } from "./today.js";

const RATINGS = Array.from({ length: 11 }, (_, rating) => rating);
const GENTLEST_FIRST = [
  "settled",
  "missed",
  "partly",
  "unreported",
  "aching",
  "aching_untold",
  "tender",
  "tender_over",
  "sore",
  "flared",
  "flared_idle",
  "sharp",
];

/**
 * @param {import("../../wire.js").Bundle} bundle
 * @param {import("./today.js").ArmDay} day if a session is still offered, enough of it is assumed to be done
 * @returns {Branch[]} the gentlest first; at most one for each response
 */
export function branchesOf(bundle, day) {
  const worsts = possibleWorsts(day);
  const done = day.isOffered ? "enough" : day.facts.done;
  /** @param {number|null} during @param {number|null} morning */
  const outcome = (during, morning) => tomorrowIf(bundle, day, { ...day.facts, done, during, morning });
  const byDuring = worsts.map((during) => outcome(during, 0));
  const byMorning = RATINGS.map((morning) => outcome(worsts[0], morning));
  const unreported = asks(outcome(worsts[0], null).dose);
  return dosesOf([...byDuring, ...byMorning]).map((dose, index) => ({
    dose,
    during: worsts.length > 1 ? spanOf(byDuring, worsts, dose) : null,
    morning: spanOf(byMorning, RATINGS, dose),
    isBest: index === 0,
    orNoReport: index > 0 && done !== "none" && asks(dose) === unreported,
  }));
}

/**
 * Return the worst ratings that are still possible for today.
 * @param {import("./today.js").ArmDay} day
 * @returns {(number|null)[]} a single rating if no session is offered or waits for its rating
 */
function possibleWorsts({ isOffered, isRating, facts }) {
  if (!isOffered && !isRating) return [facts.during];
  return RATINGS.filter((rating) => rating >= (facts.during ?? 0));
}

/**
 * Return the doses that ask different things; the dose of the gentlest response comes first.
 * @param {Outcome[]} outcomes
 * @returns {import("../../wire.js").Dose[]}
 */
function dosesOf(outcomes) {
  /** @param {Outcome} outcome */
  const rank = (outcome) => GENTLEST_FIRST.indexOf(outcome.response);
  const sorted = [...outcomes].sort((first, second) => rank(first) - rank(second));
  const byAsk = new Map(sorted.reverse().map(({ dose }) => [asks(dose), dose]));
  return [...byAsk.values()].reverse();
}

/**
 * @param {Outcome[]} row
 * @param {(number|null)[]} ratings
 * @param {import("../../wire.js").Dose} dose
 * @returns {Span|null}
 */
function spanOf(row, ratings, dose) {
  const led = ratings.filter((_, index) => asks(row[index].dose) === asks(dose)).map(Number);
  return led.length ? { low: led[0], high: led[led.length - 1] } : null;
}
