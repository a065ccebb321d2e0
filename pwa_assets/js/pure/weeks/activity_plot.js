/**
 * How one of the client's own activities was rated, as columns over time: height is how well it can be done, 0 to 10.
 *
 * @typedef {import("./activities.js").Rating} Rating
 */

import { weekWords } from "./mornings_plot.js";
import { columnsOf, level, rect, words } from "./shapes.js";

/** Of one unit, in heights of a letter. */
export const ABILITY_UNIT = 0.35;
const [HIGHEST, THIN, LINE] = [10, 3, 1.35];

/**
 * @param {import("./past_days.js").PastDay[]} days at least one
 * @param {Rating[]} ratings of one activity
 * @param {{week(number: number): string, rating(value: number): string}} names
 * @param {import("./shapes.js").Sheet} sheet
 * @returns {import("./shapes.js").Plot|null} null where none of these days has a rating
 */
export function activityPlot(days, ratings, names, sheet) {
  const { width, em } = sheet;
  const columns = columnsOf(sheet, days.length);
  const [top, unit] = [1.2 * em, ABILITY_UNIT * em];
  const base = top + HIGHEST * unit;
  const rated = days.flatMap(({ on }, at) => {
    const own = ratings.findLast((rating) => rating.on === on);
    return own ? [{ at, rating: own.rating }] : [];
  });
  if (rated.length === 0) return null;
  const shapes = rated.flatMap(({ at, rating }) => {
    const high = Math.max(rating * unit, THIN);
    const number = words(columns.middle(at), base - high - em * 0.2, names.rating(rating), "plot-number");
    return [rect(columns.x(at), base - high, columns.bar, high, "plot-able"), number];
  });
  const ground = [
    level(columns.left, columns.right, base, "plot-axis"),
    ...weekWords(days, names, columns, base + LINE * em, em),
  ];
  return { width, height: base + (LINE + 0.4) * em, shapes: [...shapes, ...ground] };
}
