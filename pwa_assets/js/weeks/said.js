/**
 * The weeks so far in words: where the mornings began and are now, days worth knowing, and where the ladder goes.
 *
 * @typedef {import("../pure/weeks/past_days.js").PastDay} PastDay
 * @typedef {import("../edges/screen/words.js").Words} Words
 */

import { changeText } from "../dose/tomorrow.js";
import { fillSlots, piece } from "../parts/pieces.js";
import { thenAndNow } from "../pure/weeks/milestones.js";
import { nextSteps } from "../pure/weeks/next_steps.js";

const STEPS_AHEAD = 3;
const COUNTED = ["flare_rest", "flare_eased", "away"];

/** @param {PastDay[]} days the whole course @param {import("../wire.js").Bundle} bundle @param {Words} words @returns {string[]} */
export function thenAndNowTexts(days, { arms, asks }, words) {
  return arms.flatMap((arm) => {
    const found = thenAndNow(days, arm, asks.week_reports);
    if (!found) return [];
    const way = found.now < found.first ? "less" : found.now > found.first ? "more" : "same";
    return [words.fill(`weeks.${way}`, { arm: words.say(`arm.${arm}`), ...found })];
  });
}

/**
 * @param {import("../pure/weeks/milestones.js").Milestone[]} found
 * @param {import("../wire.js").Bundle} bundle
 * @param {import("./names.js").Names} names
 * @param {Words} words
 * @returns {DocumentFragment[]} in their order
 */
export function milestoneLines(found, bundle, names, words) {
  return found.map(({ number, on, arm, kind, value, days: count }) => {
    const gaps = { value: kind === "heavier" ? names.load(value) : value };
    const key = `weeks.worth.${kind}`;
    const text = COUNTED.includes(kind) ? words.plural(key, count, gaps) : words.fill(key, gaps);
    const isSaid = arm && bundle.arms.length > 1;
    return fillSlots(piece("weeks_worth"), {
      day: words.fill("weeks.day_number", { number }),
      date: words.date(on),
      text: isSaid ? words.fill("weeks.of_arm", { text, arm: words.say(`arm.${arm}`) }) : text,
    });
  });
}

/**
 * @param {import("../pure/dose/today.js").ArmDay} day
 * @param {import("../wire.js").Bundle} bundle
 * @param {Words} words
 * @returns {{note: string|null, steps: DocumentFragment[]}} note: in place of steps
 */
export function stepsAhead(day, bundle, words) {
  const steps = nextSteps(bundle, day, STEPS_AHEAD).map(({ days, change }) =>
    fillSlots(piece("weeks_step"), {
      after: words.plural("weeks.after", days),
      change: changeText(words, change),
    }),
  );
  const kind = day.isHeldNow ? "held" : day.dose.mode === "resting" ? "resting" : "top";
  return {
    note: steps.length && !day.isHeldNow ? null : words.say(`weeks.ahead.${kind}`),
    steps: day.isHeldNow ? [] : steps,
  };
}
