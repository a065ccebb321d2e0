/**
 * The mornings of one arm as columns, with what its bands are called beside them and what happened under them. Height is how much.
 *
 * @typedef {import("./past_days.js").PastDay} PastDay
 * @typedef {import("./shapes.js").Plot} Plot
 * @typedef {import("./shapes.js").Shape} Shape
 * @typedef {{week(number: number): string, version(number: number): string, bands: Record<string, string>,
 *   rows: Record<"sport"|"stopped"|"rest"|"away"|"version", string>}} Names
 * @typedef {import("./spans.js").Stretch} Stretch
 */

import { calmOf, lowOf } from "./bands.js";
import { columnsOf, fitting, level, polygon, rect, words } from "./shapes.js";

const HIGHEST = 10;
/** Of one unit of pain, of what is cut off a column, of the mark of a missing morning; in heights of a letter. */
export const UNIT = 0.62;
const [SLANT, STUB] = [0.35, 0.4];
/** A reported 0 is seen. */
const THIN = 3;
const ROW = 1.35;
const DAYS_A_WEEK = 7;

/**
 * @param {PastDay[]} days at least one
 * @param {string} arm
 * @param {{bands: import("./bands.js").Band[], names: Names, today: string, stretches?: Stretch[]}} about stretches: of the same days; a morning of today that is not reported is no missing one
 * @param {import("./shapes.js").Sheet} sheet
 * @returns {Plot}
 */
export function morningsPlot(days, arm, { bands, names, today, stretches = [] }, sheet) {
  const { width, em } = sheet;
  const columns = columnsOf(sheet, days.length);
  const [unit, top] = [UNIT * em, 1.2 * em];
  const base = top + HIGHEST * unit;
  const floor = base + ROW * em;
  const rows = rowsOf(days, arm, stretches, names, columns, { floor, em });
  const shapes = [
    ...ground(bands, names, { columns, base, unit, em }),
    ...days.flatMap((day, at) =>
      column(day, arm, at, { columns, base, unit, em, flared: lowOf(bands, "flared"), today }),
    ),
    level(columns.left, columns.right, base, "plot-axis"),
    ...weekWords(days, names, columns, floor, em),
    ...rows.flat(),
  ];
  return { width, height: floor + (rows.length * ROW + 0.4) * em, shapes };
}

/**
 * The band of the settled mornings, the line from which a morning is too much, and the words of all bands at their heights.
 * @param {import("./bands.js").Band[]} bands @param {Names} names @param {{columns: import("./shapes.js").Columns, base: number, unit: number, em: number}} room
 * @returns {Shape[]}
 */
function ground(bands, names, { columns: { left, right }, base, unit, em }) {
  const calm = Math.max(calmOf(bands), 0) * unit;
  const limits = bands.filter(({ name, low }) => low > 0 && (name === "flared" || name === "sharp"));
  const middle = (/** @type {{low: number, high: number}} */ { low, high }) =>
    base - ((low + high) / 2) * unit + em * 0.35;
  return [
    rect(left, base - calm, right - left, calm, "plot-band"),
    ...limits.map(({ low }) => level(left, right, base - low * unit, "plot-limit")),
    ...limits.map(({ low }) => words(0, base - low * unit + em * 0.35, String(low))),
    words(0, base + em * 0.1, "0"),
    ...bands.map((band) => words(right + em * 0.4, middle(band), names.bands[band.name])),
  ];
}

/**
 * @param {PastDay} day @param {string} arm @param {number} at
 * @param {{columns: import("./shapes.js").Columns, base: number, unit: number, em: number, flared: number, today: string}} room
 * @returns {Shape[]}
 */
function column(day, arm, at, { columns, base, unit, em, flared, today }) {
  const { morning } = day.arms[arm];
  const [x, { bar }] = [columns.x(at), columns];
  // No morning comes before the first session, and today's may still come.
  if (morning === null)
    return day.number === 1 || day.on >= today ? [] : [rect(x, base - STUB * em, bar, STUB * em, "plot-missing")];
  const high = Math.max(morning * unit, THIN);
  if (morning < flared) return [rect(x, base - high, bar, high, "plot-pain")];
  const number = words(x + bar / 2, base - high - em * 0.2, String(morning), "plot-number");
  return [cutColumn(x, base, bar, high, SLANT * em), number];
}

/** A column cut on the slant; its highest point is its value. @param {number} x @param {number} base @param {number} bar @param {number} high @param {number} cut @returns {Shape} */
const cutColumn = (x, base, bar, high, cut) =>
  polygon(
    [
      [x, base],
      [x, base - high + cut],
      [x + bar, base - high],
      [x + bar, base],
    ],
    "plot-over",
  );

/** @param {PastDay[]} days @param {Pick<Names, "week">} names @param {import("./shapes.js").Columns} columns @param {number} y @param {number} em @returns {Shape[]} */
export function weekWords(days, names, columns, y, em) {
  const starts = days.flatMap(({ number }, at) => {
    const isStart = (number - 1) % DAYS_A_WEEK === 0 && number > 0;
    return isStart ? [words(columns.x(at), y, names.week((number - 1) / DAYS_A_WEEK + 1))] : [];
  });
  return fitting(starts, em, columns.right + em * 4);
}

/**
 * What happened, a row each, under the weeks; a row without a mark is not drawn. Each row has its word at its side.
 * @param {PastDay[]} days @param {string} arm @param {Stretch[]} stretches @param {Names} names @param {import("./shapes.js").Columns} columns @param {{floor: number, em: number}} room
 * @returns {Shape[][]}
 */
function rowsOf(days, arm, stretches, names, columns, { floor, em }) {
  const size = em * 0.35;
  const bar = (/** @type {string} */ name) => (/** @type {number} */ x, /** @type {number} */ y) => [
    level(x - columns.step / 2, x + columns.step / 2, y, name),
  ];
  const [held, rest, away] = ["plot-held", "plot-rest", "plot-away"].map(bar);
  /** @type {[keyof Names["rows"], (day: PastDay, x: number, y: number, at: number) => Shape[]][]} */
  const kinds = [
    ["sport", ({ loads }, x, y) => (loads.includes("sport") ? [triangle(x, y, size)] : [])],
    ["stopped", (day, x, y, at) => [...(stretches[at]?.held ? held(x, y) : []), ...stopMarks(day, arm, x, y, size)]],
    ["rest", (_, x, y, at) => (stretches[at]?.resting ? rest(x, y) : [])],
    ["away", (day, x, y) => (day.away ? away(x, y) : [])],
    ["version", ({ version }, x, y) => (version ? [words(x - size, y + size, names.version(version))] : [])],
  ];
  /** @type {Shape[][]} */
  const rows = [];
  for (const [name, mark] of kinds) {
    const y = floor + (rows.length + 0.75) * ROW * em;
    const marks = days.flatMap((day, at) => mark(day, columns.middle(at), y, at));
    if (marks.length) rows.push([...marks, words(columns.right + em * 0.4, y + size, names.rows[name])]);
  }
  return rows;
}

/** @param {PastDay} day @param {string} arm @param {number} x @param {number} y @param {number} size @returns {Shape[]} a stop cut on the slant; the return a ring */
function stopMarks({ arms, released }, arm, x, y, size) {
  const stop = polygon(
    [
      [x - size, y - size],
      [x + size, y - size],
      [x + size * 0.4, y + size],
      [x - size, y + size],
    ],
    "plot-stop",
  );
  /** @type {Shape} */
  const ring = { tag: "circle", at: { cx: x, cy: y, r: size, class: "plot-back" } };
  return [...(arms[arm].isSharp ? [stop] : []), ...(released.includes(arm) ? [ring] : [])];
}

/** @param {number} x @param {number} y @param {number} size @returns {Shape} */
const triangle = (x, y, size) =>
  polygon(
    [
      [x - size, y + size],
      [x, y - size],
      [x + size, y + size],
    ],
    "plot-sport",
  );
