/**
 * What the sessions of one arm did, and what they asked: wrist work by day as columns; reps, weight and range as steps. Height is how much.
 *
 * @typedef {import("./past_days.js").PastDay} PastDay
 * @typedef {import("./shapes.js").Shape} Shape
 * @typedef {import("./shapes.js").Plot} Plot
 * @typedef {import("./shapes.js").Columns} Columns
 * @typedef {{week(number: number): string, joules(work: number): string, reps(count: number): string, load(kg: number): string,
 *   turn(share: number): string}} Names
 * @typedef {{at: number, count: number, value: number}} Level a value that stays for some days in a row, from the day at this place on
 */

import { weekWords } from "./mornings_plot.js";
import { columnsOf, fitting, level, path, rect, round, widthOf, words } from "./shapes.js";

/** In heights of a letter: the highest column, the highest step, the highest weight, the half disc. */
export const [WORK, STAIR, WEIGHT, DISC] = [5, 3.6, 1.2, 0.95];
const LINE = 1.35;
/** How far the hand turns at full range, in degrees from straight. */
const FULL_TURN = 75;
const LEAST = 3;

/**
 * @param {PastDay[]} days at least one
 * @param {string} arm
 * @param {Names} names
 * @param {import("./shapes.js").Sheet} sheet
 * @returns {Plot|null} null where no session's work is known
 */
export function workPlot(days, arm, names, sheet) {
  const { width, em } = sheet;
  const columns = columnsOf(sheet, days.length);
  const most = Math.max(0, ...days.flatMap(({ arms }) => [arms[arm].workJ ?? 0, arms[arm].workAskedJ ?? 0]));
  if (most === 0) return null;
  const [top, scale] = [1.2 * em, (WORK * em) / most];
  const base = top + WORK * em;
  const shapes = [
    ...days.flatMap(({ arms }, at) => workColumn(arms[arm], columns.x(at), columns.bar, base, scale)),
    level(columns.left, columns.right, base, "plot-axis"),
    words(columns.right + em * 0.4, top + em * 0.5, names.joules(most)),
    ...weekWords(days, names, columns, base + LINE * em, em),
  ];
  return { width, height: base + (LINE + 0.4) * em, shapes };
}

/** @param {import("./past_days.js").ArmPast} past @param {number} x @param {number} bar @param {number} base @param {number} scale @returns {Shape[]} */
function workColumn({ workJ, workAskedJ }, x, bar, base, scale) {
  const done = workJ === null ? [] : [rect(x, base - workJ * scale, bar, workJ * scale, "plot-done")];
  return workAskedJ === null
    ? done
    : [...done, rect(x, base - workAskedJ * scale, bar, workAskedJ * scale, "plot-asked")];
}

/**
 * @param {PastDay[]} days at least one
 * @param {string} arm
 * @param {Names} names
 * @param {import("./shapes.js").Sheet} sheet
 * @returns {Plot|null} null where no session tells what it asked
 */
export function stairPlot(days, arm, names, sheet) {
  const { width, em } = sheet;
  const columns = columnsOf(sheet, days.length);
  const leads = days.map(({ arms }) => arms[arm].dose?.sets[0] ?? null);
  const [reps, loads, ranges] = /** @type {const} */ (["reps", "load_kg", "range"]).map((lever) =>
    levelsOf(leads.map((lead) => lead?.[lever] ?? null)),
  );
  if (reps.length === 0) return null;
  const stair = 1.4 * em + STAIR * em;
  const weight = stair + (WEIGHT + 0.5) * em;
  const range = weight + LINE * em + (2 * DISC + 0.4) * em;
  const shapes = [
    ...steps(reps, columns, { base: stair, high: STAIR * em, name: "plot-step" }),
    ...fitting(
      reps.map((each) => repsWords(each, reps, names, columns, stair, em)),
      em,
      width,
    ),
    level(columns.left, columns.right, stair, "plot-axis"),
    ...steps(loads, columns, { base: weight, high: WEIGHT * em, name: "plot-weight" }),
    ...fitting(
      changes(loads).map(({ at, value }) =>
        words(columns.left + at * columns.step, weight + LINE * em, names.load(value)),
      ),
      em,
      width,
    ),
    ...discs(changes(ranges), names, columns, range, em),
    ...weekWords(days, names, columns, range + 2 * LINE * em, em),
  ];
  return { width, height: range + (2 * LINE + 0.4) * em, shapes };
}

/**
 * The words of a step, above the highest of the steps that they reach over.
 * @param {Level} each @param {Level[]} all @param {Names} names @param {Columns} columns @param {number} base @param {number} em @returns {Shape}
 */
function repsWords({ at, value }, all, names, { left, step }, base, em) {
  const said = names.reps(value);
  const end = at + widthOf(said, em) / step;
  const under = all.filter((other) => other.at < end && other.at + other.count > at);
  const top = Math.max(...under.map((other) => heightOf(other.value, all, STAIR * em)));
  return words(left + at * step, base - top - em * 0.35, said);
}

/**
 * The stretches of days on which a value stays. A day that does not tell it ends a stretch: nothing is known of it.
 * @param {(number|null)[]} values by day
 * @returns {Level[]}
 */
export function levelsOf(values) {
  /** @type {Level[]} */
  const levels = [];
  values.forEach((value, at) => {
    const last = levels.at(-1);
    if (value === null) return;
    if (last?.value === value && last.at + last.count === at) last.count += 1;
    else levels.push({ at, count: 1, value });
  });
  return levels;
}

/** @param {Level[]} levels @returns {Level[]} those that differ from the one before */
const changes = (levels) => levels.filter(({ value }, nth) => value !== levels[nth - 1]?.value);

/** @param {number} value @param {Level[]} all @param {number} high @returns {number} */
function heightOf(value, all, high) {
  const most = Math.max(...all.map((each) => each.value));
  return most > 0 ? Math.max(LEAST, (value / most) * high) : LEAST;
}

/** @param {Level[]} levels @param {Columns} columns @param {{base: number, high: number, name: string}} room @returns {Shape[]} */
const steps = (levels, { left, step }, { base, high, name }) =>
  levels.map(({ at, count, value }) => {
    const tall = heightOf(value, levels, high);
    return rect(left + at * step, base - tall, count * step, tall, name);
  });

/**
 * The range is the half disc at the wrist and nothing else: one at each change of it, with its word under it.
 * @param {Level[]} levels @param {Names} names @param {Columns} columns @param {number} y of its lowest point @param {number} em @returns {Shape[]}
 */
function discs(levels, names, { left, step, right }, y, em) {
  const said = fitting(
    levels.map(({ at, value }) => words(left + at * step, y + LINE * em, names.turn(value))),
    em,
    right + em * 5,
  );
  const shown = levels.filter(({ at }) => said.some((each) => each.at.x === left + at * step));
  return [...shown.flatMap(({ at, value }) => disc(left + at * step, y - DISC * em, DISC * em, value)), ...said];
}

/** @param {number} x @param {number} y @param {number} radius @param {number} share of the full range @returns {Shape[]} */
function disc(x, y, radius, share) {
  const wrist = x + radius * 0.6;
  const turn = (FULL_TURN * share * Math.PI) / 180;
  const [across, up] = [radius * Math.cos(turn), radius * Math.sin(turn)].map(round);
  const [from, r] = [round(wrist), round(radius)];
  const arc = ["A", r, r, 0, 0, 1];
  return [
    path(["M", from, round(y - radius), ...arc, from, round(y + radius), "Z"], "plot-half"),
    path(["M", from, round(y), "l", across, -up, ...arc, round(wrist + across), round(y + up), "Z"], "plot-turn"),
    level(x, wrist, y, "plot-arm"),
  ];
}
