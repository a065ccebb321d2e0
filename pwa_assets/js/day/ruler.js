/**
 * A day as a ruler, from six to twenty-two o'clock. What is over is filled, what is possible is dotted, a dose is yellow, sport is a
 * triangle. What it shows is said in words beside it.
 *
 * @typedef {{kind: "done"|"possible"|"dose"|"sport"|"now", from: number, to?: number}} Mark hours from midnight; without `to` it
 *   stands at one place
 */

import { find, piece } from "../parts/pieces.js";

const [FIRST, LAST] = [6, 22];

/**
 * @param {Mark[]} marks
 * @returns {DocumentFragment}
 */
export function drawRuler(marks) {
  const node = piece("day_ruler");
  find(node, "[data-marks]").append(...marks.flatMap(markOf));
  return node;
}

/** @param {Mark} mark @returns {HTMLElement[]} none where it lies outside the ruler */
function markOf({ kind, from, to = from }) {
  if (to < FIRST || from > LAST) return [];
  const line = document.createElement("span");
  const [start, end] = [Math.max(FIRST, from), Math.min(LAST, to)];
  line.classList.add("day-mark", `day-mark-${kind}`);
  line.style.setProperty("--from", `${share(start)}%`);
  line.style.setProperty("--long", `${share(end) - share(start)}%`);
  return [line];
}

/** @param {number} hour @returns {number} how far along the ruler, per cent */
const share = (hour) => (100 * (hour - FIRST)) / (LAST - FIRST);
