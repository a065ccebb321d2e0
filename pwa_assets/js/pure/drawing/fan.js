/**
 * The half turn: how far the wrist turns, and nothing else. Pure. Degrees are from straight, up is positive.
 *
 * @typedef {import("./limb.js").Spot} Spot
 */

import { linePath, turn } from "./limb.js";

export const RIM = 150;
const MARK_HALF = 14;
const DOTTED = [0.5, 0.66, 0.82];

/** @param {number} r @param {number} degrees @returns {Spot} */
function onRim(r, degrees) {
  const [c, s] = turn(-degrees);
  return [r * c, r * s];
}

/** @param {number[]} spot */
const at = (spot) => spot.map((value) => Math.round(value * 10) / 10).join(" ");

/** @param {number} r @param {number} from @param {number} to @returns {string} */
export const arcPath = (r, from, to) => `M${at(onRim(r, from))}A${r} ${r} 0 0 ${to > from ? 0 : 1} ${at(onRim(r, to))}`;

/** @param {number} from @param {number} to @returns {string} the sector between two angles */
export const wedgePath = (from, to) => `M0 0L${arcPath(RIM, from, to).slice(1)}Z`;

/**
 * @param {{up: number, down: number}} full the whole range
 * @param {{top: number, bottom: number}} day the day's part of it
 * @returns {Record<"half"|"full"|"rest"|"dots"|"day"|"ends", string>}
 */
export function fanPaths({ up, down }, { top, bottom }) {
  const end = (/** @type {number} */ degrees) =>
    linePath([onRim(RIM - MARK_HALF, degrees), onRim(RIM + MARK_HALF, degrees)]);
  return {
    half: wedgePath(-90, 90),
    full: top < up ? arcPath(RIM, -down, up) : "",
    rest: wedgePath(bottom, top),
    dots: DOTTED.map((part) => arcPath(RIM * part, bottom, top)).join(""),
    day: arcPath(RIM, bottom, top),
    ends: end(bottom) + end(top),
  };
}

/** @param {1|-1} way up or down @returns {string} the arrow on the rim, where the rim is straight ahead */
export const arrowPath = (way) =>
  linePath(
    [
      [RIM - 17, 13 * way],
      [RIM + 19, 13 * way],
      [RIM + 1, -16 * way],
    ],
    true,
  );
