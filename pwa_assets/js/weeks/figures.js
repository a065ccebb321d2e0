/**
 * The figures of the weeks: each is a plot with the same numbers as a table.
 *
 * @typedef {import("../pure/weeks/past_days.js").PastDay} PastDay
 * @typedef {import("./page.js").About} About
 */

import { afterPaint, fillSlots, find, piece } from "../parts/pieces.js";
import { ratingsIn } from "../pure/weeks/activities.js";
import { activityPlot } from "../pure/weeks/activity_plot.js";
import { morningsPlot } from "../pure/weeks/mornings_plot.js";
import { stairPlot, workPlot } from "../pure/weeks/work_plots.js";
import { drawPlot } from "./plot.js";
import { activityTable, fillTable, morningsTable, newFigure, stairTable, workTable } from "./tables.js";

/**
 * @param {PastDay[]} days
 * @param {string} arm
 * @param {About} about
 * @param {import("../pure/weeks/shapes.js").Sheet} sheet
 * @param {AbortSignal} signal
 * @param {import("../pure/weeks/spans.js").Stretch[]} stretches of the same days
 */
export function drawArm(days, arm, { names, words, today, bands }, sheet, signal, stretches) {
  const node = fillSlots(piece("weeks_arm"), { arm: words.say(`arm.${arm}`) });
  const section = find(node, "section");
  section.dataset.arm = arm;
  const hasMissing = days.some((day) => day.arms[arm].morning === null && day.on < today && day.number > 1);
  const hasSessions = days.some((day) => day.arms[arm].dose || day.arms[arm].sessions > 0);
  section.append(
    figure("mornings", words, hasMissing, signal, {
      plot: () => morningsPlot(days, arm, { bands, names, today, stretches }, sheet),
      table: () => morningsTable(days, arm, names, words, stretches),
    }),
  );
  if (!hasSessions) return node;
  section.append(
    figure("work", words, false, signal, {
      plot: () => workPlot(days, arm, names, sheet),
      table: () => workTable(days, arm, names, words),
    }),
    figure("stair", words, false, signal, {
      plot: () => stairPlot(days, arm, names, sheet),
      table: () => stairTable(days, arm, names, words),
    }),
  );
  return node;
}

/**
 * @param {PastDay[]} days
 * @param {About} about
 * @param {import("../pure/weeks/shapes.js").Sheet} sheet
 * @param {AbortSignal} signal
 * @returns {DocumentFragment[]} a figure for each activity that was rated on one of these days
 */
export function drawActivities(days, { names, words, lasting }, sheet, signal) {
  const ratings = ratingsIn(lasting).filter(({ on }) => days.some((day) => day.on === on));
  return [...new Set(ratings.map(({ activity }) => activity))].map((activity) => {
    const own = ratings.filter((rating) => rating.activity === activity);
    const made = {
      plot: () => activityPlot(days, own, names, sheet),
      table: () => activityTable(days, own, words),
    };
    return figure("activity", words, false, signal, made, activity);
  });
}

/**
 * A plot is drawn in a frame of its own, and its table when it is opened, so that a slow phone stays smooth.
 * @param {"mornings"|"work"|"stair"|"activity"} kind
 * @param {import("../edges/screen/words.js").Words} words
 * @param {boolean} hasMissing whether a morning without a report is drawn
 * @param {AbortSignal} signal
 * @param {{plot(): import("../pure/weeks/shapes.js").Plot|null, table(): import("./tables.js").Table}} made
 * @param {string} [activity] that the plot is about
 */
function figure(kind, words, hasMissing, signal, { plot, table }, activity = "") {
  const node = newFigure();
  const title = activity || words.say(`weeks.title.${kind}`);
  fillSlots(node, {
    title,
    how: words.has(`weeks.how.${kind}`) ? words.say(`weeks.how.${kind}`) : null,
    missing: hasMissing ? words.say("weeks.missing") : null,
  });
  const whole = find(node, "figure");
  whole.dataset.plot = kind;
  find(node, ".weeks-scroller").setAttribute("aria-label", title);
  afterPaint(() => {
    const drawn = plot();
    whole.hidden = drawn === null;
    if (drawn) find(whole, "[data-drawing]").append(drawPlot(drawn));
  });
  const fill = () => fillTable(find(whole, "table"), table(), words);
  find(node, "details").addEventListener("toggle", fill, { signal, once: true });
  return node;
}
