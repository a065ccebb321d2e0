/**
 * The sign of time in a picture: a ruler, from left to right.
 *
 * @typedef {import("./wrist_drawing.js").Make} Make
 * @typedef {import("./wrist_drawing.js").Moving} Moving
 */

import { boxPath, linePath } from "../pure/drawing/limb.js";

/** Its distance from the edges of the picture, its height, its short lines, and the most seconds with a line each. */
const RULER = { edge: 12, high: 14, tick: 4.5, most: 60 };

/** Time runs from left to right, in seconds, and is no part of the half turn. @param {Make} make @param {SVGElement} group @param {number[]} box @returns {Moving} */
export function ruler(make, group, [left, top, width]) {
  const [x, y, length] = [left + RULER.edge, top + RULER.edge, width - 2 * RULER.edge];
  const [plate, gone, ticks] = ["ruler", "gone", "ticks"].map((name) => make("path", { class: `wrist-${name}` }));
  const bar = (/** @type {number} */ end) => boxPath([x, y], [x + end, y + RULER.high]);
  plate.setAttribute("d", bar(length));
  group.replaceChildren(plate, gone, ticks);
  return {
    from: ({ time }) => (time ? [time.seconds, time.part * 600] : []),
    move({ time }) {
      group.setAttribute("display", time ? "inline" : "none");
      if (!time) return;
      ticks.setAttribute("d", ticksPath([x, y], length, Math.round(time.seconds)));
      gone.setAttribute("d", bar(length * time.part));
    },
  };
}

/** A line for each second, longer at every fifth. @param {[number, number]} start @param {number} length @param {number} seconds */
function ticksPath([x, y], length, seconds) {
  const every = seconds > RULER.most ? 5 : 1;
  const count = Math.max(0, Math.ceil(seconds / every) - 1);
  return Array.from({ length: count }, (_, i) => {
    const at = (i + 1) * every;
    const across = x + (length * at) / seconds;
    return linePath([
      [across, y],
      [across, y + (at % 5 ? RULER.tick : 2 * RULER.tick)],
    ]);
  }).join("");
}
