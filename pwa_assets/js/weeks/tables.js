/**
 * The tables beside the plots: the same numbers, the latest day first.
 *
 * @typedef {import("../pure/weeks/past_days.js").PastDay} PastDay
 * @typedef {import("../edges/screen/words.js").Words} Words
 * @typedef {{heads: string[], rows: string[][]}} Table heads: keys of words; of a row, the first cell names its day
 */

import { find, piece } from "../parts/pieces.js";

/**
 * @param {PastDay[]} days @param {string} arm @param {import("./names.js").Names} names @param {Words} words
 * @param {import("../pure/weeks/spans.js").Stretch[]} [stretches] of the same days
 * @returns {Table}
 */
export function morningsTable(days, arm, names, words, stretches = []) {
  const rows = days.map((day, at) => {
    const { morning, isSharp } = day.arms[arm];
    const marks = [
      ...(isSharp ? [names.rows.stopped] : stretches[at]?.held ? [words.say("weeks.held")] : []),
      ...(stretches[at]?.resting ? [words.say("weeks.resting")] : []),
      ...(day.away ? [words.say(`weeks.away.${day.away}`)] : []),
      ...(day.released.includes(arm) ? [words.say("weeks.started_again")] : []),
      ...(day.version ? [words.fill("weeks.version", { version: day.version })] : []),
      ...day.loads.map((load) => words.say(`weeks.load.${load}`)),
    ];
    return [dayOf(day, words), numberOr(morning, words), words.list(marks)];
  });
  return { heads: ["day", "morning", "marks"], rows };
}

/** @param {PastDay[]} days @param {string} arm @param {import("./names.js").Names} names @param {Words} words @returns {Table} */
export function workTable(days, arm, names, words) {
  const rows = days.flatMap((day) => {
    const { workJ, workAskedJ, sessions, dose, done } = day.arms[arm];
    if (sessions === 0 && workAskedJ === null) return [];
    const count = dose ? words.fill("weeks.of", { done: sessions, asked: dose.sessions }) : words.number(sessions);
    const [did, wanted] = [workJ, workAskedJ].map((work) =>
      work === null ? words.say("weeks.unknown") : names.joules(work),
    );
    return [[dayOf(day, words), did, wanted, count, words.say(`weeks.done.${done}`)]];
  });
  return { heads: ["day", "work", "work_asked", "sessions", "done"], rows };
}

/** @param {PastDay[]} days @param {string} arm @param {import("./names.js").Names} names @param {Words} words @returns {Table} */
export function stairTable(days, arm, names, words) {
  const rows = days.flatMap((day) => {
    const lead = day.arms[arm].dose?.sets[0];
    return lead
      ? [[dayOf(day, words), words.number(lead.reps), names.load(lead.load_kg), names.range(lead.range)]]
      : [];
  });
  return { heads: ["day", "reps", "weight", "range"], rows };
}

/** @param {PastDay[]} days @param {import("../pure/weeks/activities.js").Rating[]} ratings of one activity @param {Words} words @returns {Table} */
export function activityTable(days, ratings, words) {
  const rows = days.flatMap((day) =>
    ratings.filter(({ on }) => on === day.on).map(({ rating }) => [dayOf(day, words), words.number(rating)]),
  );
  return { heads: ["day", "able"], rows };
}

/** @param {PastDay} day @param {Words} words */
const dayOf = ({ on, number }, words) => words.fill("weeks.day", { number, date: words.date(on) });

/** @param {number|null} value @param {Words} words */
const numberOr = (value, words) => (value === null ? words.say("weeks.unknown") : words.number(value));

/**
 * @param {HTMLElement} into a table of the shell
 * @param {Table} table
 * @param {Words} words
 */
export function fillTable(into, { heads, rows }, words) {
  const head = heads.map((name) => cell("th", words.say(`weeks.head.${name}`), "col"));
  const body = [...rows].reverse().map(([day, ...others]) => {
    const row = document.createElement("tr");
    row.append(cell("th", day, "row"), ...others.map((text) => cell("td", text)));
    return row;
  });
  find(into, "[data-heads]").replaceChildren(...head);
  find(into, "tbody").replaceChildren(...body);
}

/** @param {"th"|"td"} tag @param {string} text @param {string} [scope] */
function cell(tag, text, scope) {
  const made = document.createElement(tag);
  made.textContent = text;
  if (scope) made.setAttribute("scope", scope);
  return made;
}

/** @returns {DocumentFragment} a plot's figure, empty */
export const newFigure = () => piece("weeks_plot");
