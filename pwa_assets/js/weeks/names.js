/**
 * What the plots and tables of the weeks call things, in the reader's language.
 */

import { weightText } from "../parts/weight.js";

/** @typedef {ReturnType<typeof namesOf>} Names */

const RANGES = new Map([
  [1, "full"],
  [0.75, "three_quarters"],
  [0.5, "half"],
]);
const CLOSE = 1e-6;

/**
 * @param {import("../edges/screen/words.js").Words} words
 * @param {import("../wire.js").Bundle} bundle
 */
export function namesOf(words, bundle) {
  const loads = bundle.doses.flatMap(({ sets }) => sets);
  const load = (/** @type {number} */ kg) => {
    if (kg < CLOSE) return words.say("weeks.no_load");
    const known = loads.find((set) => Math.abs(set.load_kg - kg) < CLOSE)?.load;
    return known ?? weightText(words, kg);
  };
  /** @param {string[]} keys @param {string} under @returns {Record<string, string>} */
  const of = (keys, under) => Object.fromEntries(keys.map((key) => [key, words.say(`weeks.${under}.${key}`)]));
  return {
    week: (/** @type {number} */ number) => words.fill("weeks.week", { number }),
    version: (/** @type {number} */ version) => words.number(version),
    bands: of(["settled", "tender", "flared", "sharp"], "band"),
    rows: /** @type {Record<"sport"|"stopped"|"rest"|"away"|"version", string>} */ (
      of(["sport", "stopped", "rest", "away", "version"], "row")
    ),
    joules: (/** @type {number} */ work) => words.fill("weeks.joules", { work: rounded(work) }),
    reps: (/** @type {number} */ count) => words.plural("dose.reps", count),
    load,
    rating: (/** @type {number} */ value) => words.number(value),
    turn: (/** @type {number} */ share) => words.say(`weeks.turn.${RANGES.get(share) ?? "full"}`),
    range: (/** @type {number} */ share) => words.say(`weeks.range.${RANGES.get(share) ?? "full"}`),
  };
}

/** @param {number} work in joules @returns {number} to a tenth where it is small */
const rounded = (work) => (work < 10 ? Math.round(work * 10) / 10 : Math.round(work));
