import assert from "node:assert/strict";
import { test } from "node:test";
import { morningsPlot } from "../../../../pwa_assets/js/pure/weeks/mornings_plot.js";
import { holdsOf, restsOf, stretchesOf } from "../../../../pwa_assets/js/pure/weeks/spans.js";
import { morningsTable } from "../../../../pwa_assets/js/weeks/tables.js";

const LOWS = { flared: 6, sharp: 8 };
const IDLE = { sessions: 0 };

/** Days of the right arm; each has a calm morning and a session unless it says otherwise. @param {any[]} all @returns {any[]} */
const course = (all) =>
  all.map(({ released = [], away = null, ...own }, at) => {
    const right = { morning: 1, worst: 1, isSharp: false, sessions: 1, ...own };
    return { on: `d${at + 1}`, number: at + 2, loads: [], version: null, released, away, arms: { right } };
  });
const STOPPED = course([{}, { isSharp: true }, IDLE, IDLE, { released: ["right"] }, { isSharp: true }, IDLE]);
const FLARED = course([{}, { ...IDLE, morning: 7 }, IDLE, {}, { worst: 6 }, IDLE, {}, { morning: 6 }, {}]);

test("a hold lasts from the stop to the day before the arm may work again, or up to now", () => {
  assert.deepEqual(holdsOf(STOPPED, "right"), [
    { at: 1, count: 3, isOpen: false },
    { at: 5, count: 2, isOpen: true },
  ]);
});

test("rest lasts from a flare to the next session: from the morning's own day, or from the day after a session", () => {
  assert.deepEqual(restsOf(FLARED, "right", LOWS), [
    { at: 1, count: 2, isOpen: false },
    { at: 5, count: 1, isOpen: false },
  ]);
});

test("a rest that lasts is open, and after a week it is no rest any more", () => {
  const since = (/** @type {number} */ days) =>
    restsOf(course([{ ...IDLE, morning: 7 }, ...Array(days - 1).fill(IDLE)]), "right", LOWS);
  assert.deepEqual(since(3), [{ at: 0, count: 3, isOpen: true }]);
  assert.deepEqual(since(8), []);
});

test("plot and table tell the same stretches, and what kept the client away", () => {
  const days = course([
    {},
    { isSharp: true },
    IDLE,
    { released: ["right"] },
    { ...IDLE, morning: 6 },
    {},
    { ...IDLE, away: "ill" },
  ]);
  const stretches = stretchesOf(days, "right", LOWS);
  const rows = { sport: "sport", stopped: "stopped", rest: "rest", away: "away", version: "version" };
  const names = /** @type {any} */ ({ week: String, version: String, bands: {}, rows });
  const about = { bands: [], names, today: "d8", stretches };
  const { shapes } = morningsPlot(days, "right", about, { width: 328, em: 15 });
  const count = (/** @type {string} */ name) => shapes.filter(({ at }) => at.class === name).length;
  assert.deepEqual(["plot-held", "plot-rest", "plot-away", "plot-stop", "plot-back"].map(count), [2, 1, 1, 1, 1]);
  const words = /** @type {any} */ ({
    say: String,
    fill: (/** @type {string} */ key) => key,
    number: String,
    date: String,
    list: (/** @type {string[]} */ all) => all.join("+"),
  });
  const { rows: lines } = morningsTable(days, "right", names, words, stretches);
  assert.deepEqual(
    lines.map(([, , marks]) => marks),
    ["", "stopped", "weeks.held", "weeks.started_again", "weeks.resting", "", "weeks.away.ill"],
  );
});
