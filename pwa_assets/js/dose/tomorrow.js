/**
 * What tomorrow depends on: the few doses that tomorrow can bring, each with the ratings that lead to it.
 */

import { fillSlots, find, piece } from "../parts/pieces.js";
import { doseChange } from "../pure/dose/dose_change.js";
import { branchesOf } from "../pure/dose/outlook.js";

const RANGES = new Map([
  [1, "full"],
  [0.75, "three_quarters"],
  [0.5, "half"],
]);
const HIGHEST = 10;

/** @typedef {import("../edges/screen/words.js").Words} Words */

/** @param {import("../day/page.js").Context} context */
export function seen(context) {
  if (!context.bundle || context.awaitsReport || context.days.every((day) => day.isHeldNow)) return null;
  return { bundle: context.bundle.hash, days: context.days, to: context.course.to };
}

/**
 * @param {HTMLElement} part
 * @param {import("../day/page.js").Context} context
 * @param {import("../main.js").Edges} edges
 */
export function draw(part, { bundle, days, course }, { words }) {
  const perArm = days
    .filter((day) => !day.isHeldNow)
    .map((day) => ({ arm: day.arm, lines: linesOf(words, bundle, day) }));
  const isAlike = perArm.every(({ lines }) => JSON.stringify(lines) === JSON.stringify(perArm[0].lines));
  const shown = (isAlike ? perArm.slice(0, 1) : perArm).map(({ arm, lines }) => {
    const node = fillSlots(piece("branches"), { arm: isAlike ? null : words.say(`arm.${arm}`) });
    find(node, ".branches").append(...lines.map(drawLine));
    return node;
  });
  const text =
    course.to === "maintenance" ? [fillSlots(piece("sentence"), { text: words.say("branch.next_time") })] : [];
  find(part, "[data-body]").replaceChildren(...text, ...shown);
}

/** @param {{when: string, next: string, isHeld: boolean}} line */
function drawLine({ when, next, isHeld }) {
  const node = fillSlots(piece("branch"), { when, next });
  find(node, "strong").className = isHeld ? "do-ink" : "ease";
  return node;
}

/**
 * @param {Words} words
 * @param {import("../wire.js").Bundle} bundle
 * @param {import("../pure/dose/today.js").ArmDay} day
 * @returns {{when: string, next: string, isHeld: boolean}[]}
 */
function linesOf(words, bundle, day) {
  return branchesOf(bundle, day).map((branch) => ({
    when: capital(whenOf(words, branch)),
    next: changeText(words, doseChange(day.dose, branch.dose)),
    isHeld: branch.dose.mode === "held",
  }));
}

/**
 * @param {Words} words
 * @param {import("../pure/dose/outlook.js").Branch} branch
 */
function whenOf(words, branch) {
  const during = branch.during && spanText(words, branch.during);
  const morning = branch.morning && spanText(words, branch.morning);
  if (branch.dose.mode === "held") return stopText(words, during, morning);
  if (during && morning && branch.isBest) return words.fill("branch.best_both", { during, morning });
  const tail = branch.orNoReport ? "_no_report" : "";
  if (during && morning) return words.fill(`branch.either${tail}`, { during, morning });
  if (during) return words.fill(`branch.during${tail}`, { during });
  return morning ? words.fill(`branch.morning${tail}`, { morning }) : words.say("branch.any");
}

/**
 * @param {Words} words
 * @param {string|null} during
 * @param {string|null} morning
 */
function stopText(words, during, morning) {
  if (during && morning && during !== morning) return words.fill("branch.stop_both", { during, morning });
  return words.fill("branch.stop", { rating: during ?? morning ?? "" });
}

/**
 * @param {Words} words
 * @param {import("../pure/dose/outlook.js").Span} span
 */
function spanText(words, { low, high }) {
  if (low === 0) return words.fill("span.up_to", { high });
  if (high === HIGHEST) return words.fill("span.from", { low });
  if (low === high) return words.fill("span.only", { low });
  return words.fill(high - low === 1 ? "span.pair" : "span.between", { low, high });
}

/**
 * @param {Words} words
 * @param {import("../pure/dose/dose_change.js").DoseChange} change
 * @returns {string} what is asked then, as the end of a sentence
 */
export function changeText(words, change) {
  const { kind, load, now } = change;
  const times = words.plural("dose.reps", change.reps);
  const range = words.say(`change.range.${RANGES.get(change.range) ?? "full"}`);
  if (kind === "same" || kind === "rest" || kind === "held") return words.say(`change.${kind}`);
  if (kind === "range") return range;
  const sessions = words.plural("dose.sessions", change.sessions);
  return words.fill(`change.${kind}`, { times, load, range, sessions, now });
}

/** @param {string} text */
function capital(text) {
  const [first = ""] = text;
  return first.toLocaleUpperCase(document.documentElement.lang) + text.slice(first.length);
}
