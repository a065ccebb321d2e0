import assert from "node:assert/strict";
import { test } from "node:test";
import { morningsPlot } from "../../../../pwa_assets/js/pure/weeks/mornings_plot.js";
import { fitting, words } from "../../../../pwa_assets/js/pure/weeks/shapes.js";
import { levelsOf, stairPlot } from "../../../../pwa_assets/js/pure/weeks/work_plots.js";

const SHEET = { width: 328, em: 15 };
/** @type {any[]} */
const BANDS = [
  { name: "settled", low: 0, high: 2 },
  { name: "flared", low: 3, high: 10 },
];
const NAMES = {
  week: (/** @type {number} */ number) => `week ${number}`,
  version: String,
  bands: { settled: "settled", flared: "flared" },
  rows: { sport: "sport", stopped: "stopped", rest: "rest", away: "away", version: "version" },
  joules: String,
  reps: (/** @type {number} */ count) => `${count} reps`,
  load: (/** @type {number} */ kg) => `${kg} kg`,
  turn: String,
};

/** @param {number} number @param {any} [own] @param {any} [other] @returns {any} */
const day = (number, own = {}, other = {}) => ({
  on: `2026-03-${String(number + 1).padStart(2, "0")}`,
  number,
  loads: [],
  version: null,
  released: [],
  sessions: [],
  arms: { right: { morning: 2, isSharp: false, dose: null, workJ: null, workAskedJ: null, ...own } },
  ...other,
});
/** @param {any[]} days @param {string} [today] */
const shapes = (days, today = "2026-04-30") =>
  morningsPlot(days, "right", { bands: BANDS, names: NAMES, today }, SHEET).shapes;
/** @param {any[]} all @param {string} name */
const named = (all, name) => all.filter(({ at }) => at.class === name);

test("a missing morning is a stub, a 0 is seen, and neither is drawn on the first day or for today", () => {
  const days = [
    day(1, { morning: null }),
    day(2, { morning: null }),
    day(3, { morning: 0 }),
    day(4, { morning: null }),
  ];
  const all = shapes(days, "2026-03-05");
  assert.equal(named(all, "plot-missing").length, 1);
  assert.deepEqual(
    named(all, "plot-pain").map(({ at }) => at.height),
    [3],
  );
});

test("a rating from where it flares is cut on the slant and says its number", () => {
  const all = shapes([day(1), day(2, { morning: 7 })]);
  assert.equal(named(all, "plot-over").length, 1);
  assert.deepEqual(
    named(all, "plot-number").map(({ text }) => text),
    ["7"],
  );
});

test("what happened stands in rows of its own, each with its word, and a row without a mark is not drawn", () => {
  const said = (/** @type {any[]} */ days) =>
    shapes(days).flatMap(({ text = "" }) => (text in NAMES.rows ? [text] : []));
  assert.deepEqual(said([day(1)]), []);
  assert.deepEqual(said([day(1, {}, { version: 1 }), day(2, { isSharp: true }, { loads: ["sport", "desk"] })]), [
    "sport",
    "stopped",
    "version",
  ]);
  assert.equal(named(shapes([day(1, {}, { released: ["right"] })]), "plot-back").length, 1);
  assert.equal(named(shapes([day(1, {}, { released: ["left"] })]), "plot-back").length, 0);
});

test("a value that stays is one step; a day that tells nothing ends it", () => {
  assert.deepEqual(levelsOf([null, 8, 8, null, 8, 9]), [
    { at: 1, count: 2, value: 8 },
    { at: 4, count: 1, value: 8 },
    { at: 5, count: 1, value: 9 },
  ]);
});

test("a step's height is its reps, and its words are said where they change", () => {
  const of = (/** @type {number} */ reps) => ({ dose: { sessions: 1, sets: [{ reps, load_kg: 0.5, range: 1 }] } });
  const plot = stairPlot(
    [day(1, of(6)), day(2), day(3, of(6)), ...Array(9).fill(day(4, of(12)))],
    "right",
    NAMES,
    SHEET,
  );
  const heights = named(plot?.shapes ?? [], "plot-step").map(({ at }) => Math.round(at.height));
  assert.deepEqual(heights, [27, 27, 54]);
  const texts = (plot?.shapes ?? []).flatMap(({ text = "" }) => (/reps|kg/.test(text) ? [text] : []));
  assert.deepEqual(texts, ["6 reps", "0.5 kg"]);
  assert.equal(stairPlot([day(1)], "right", NAMES, SHEET), null);
});

test("no word of a step is crossed by a higher step beside it", () => {
  const of = (/** @type {number} */ reps) => ({ dose: { sets: [{ reps, load_kg: 0, range: 1 }] } });
  const days = [...Array(3).fill(day(1, of(8))), ...Array(20).fill(day(4, of(20)))];
  const all = stairPlot(days, "right", NAMES, SHEET)?.shapes ?? [];
  const highest = Math.min(...named(all, "plot-step").map(({ at }) => at.y));
  assert.ok(Number(all.find(({ text }) => text === "8 reps")?.at.y) < highest);
});

test("words that would touch or run out of the plot are left out", () => {
  const all = [words(0, 0, "week 1"), words(20, 0, "week 2"), words(70, 0, "week 3"), words(90, 0, "week 4")];
  assert.deepEqual(
    fitting(all, 15, 125).map(({ text }) => text),
    ["week 1", "week 3"],
  );
});
