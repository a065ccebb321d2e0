/**
 * The weight in the hand. Pure.
 *
 * @typedef {import("./ink.js").Stroke} Stroke
 */

import { line } from "./ink.js";
import { boxPath, discPath, limbPath, linePath } from "./limb.js";
import { NEARER } from "./wrist.js";

/** Half the width of a head seen from its side, and of the bar. */
const [HEAD, BAR] = [31, 9];

/**
 * The end of a dumbbell that points at the eye or away from it.
 * @param {[number, number]} grip where the bar passes through the fist
 * @param {number} near how far the end's face is nearer to the eye than the fist
 * @param {number} r
 * @param {number} deep how thick the end is
 * @returns {Stroke[]}
 */
export function weightEnd([x, y], near, r, deep) {
  const [[fx, fy], [bx, by]] = [near, near - deep].map((z) => [x + NEARER[0] * z, y + NEARER[1] * z]);
  const d = limbPath([
    [bx, by, r],
    [fx, fy, r],
  ]);
  const face = near > 0 ? [line("iron-line", discPath([fx, fy], r - 9))] : [];
  return [line("ink", d), line("iron", d), ...face];
}

/**
 * A dumbbell across the page.
 * @param {number} x where its bar is
 * @param {[number, number]} inner the inner sides of its two heads, above and below
 * @returns {Stroke[]}
 */
export function weightAcross(x, [top, bottom]) {
  const block = (/** @type {number} */ from, /** @type {number} */ to, /** @type {number} */ half) =>
    boxPath([x - half, from], [x + half, to]);
  const shine = (/** @type {number} */ y) =>
    linePath([
      [x - 19, y],
      [x + 19, y],
    ]);
  const d = block(top, bottom, BAR) + block(top - 29, top, HEAD) + block(bottom, bottom + 29, HEAD);
  return [line("ink", d), line("iron", d), line("iron-line", shine(top - 9) + shine(bottom + 9))];
}
