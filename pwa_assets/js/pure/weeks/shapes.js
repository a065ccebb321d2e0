/**
 * What plots are made of. A shape is an SVG element by its name, its attributes in units of the plot, and the words in it.
 *
 * @typedef {{tag: "rect"|"path"|"polygon"|"line"|"circle"|"text", at: Record<string, string|number>, text?: string}} Shape
 * @typedef {{width: number, height: number, shapes: Shape[]}} Plot
 * @typedef {{width: number, em: number}} Sheet the room for a plot in CSS pixels, and the height of its letters
 * @typedef {{left: number, right: number, step: number, bar: number, x(index: number): number, middle(index: number): number}} Columns
 *   right: where the columns end and the words at their side begin; step: from one column to the next
 */

/** How wide a letter is at most on average, in heights of a letter. Own choice: measured on the typeface, bold. */
const LETTER = 0.53;
/** Room for one figure on the left and for a word on the right, in heights of a letter. */
const [LEFT, RIGHT] = [1.1, 5.4];
/** A short course is not drawn with fat columns. */
const FEWEST_COLUMNS = 14;
const BAR = 0.72;

/** @param {Sheet} sheet @param {number} count of days @returns {Columns} */
export function columnsOf({ width, em }, count) {
  const [left, right] = [LEFT * em, width - RIGHT * em];
  const step = (right - left) / Math.max(count, FEWEST_COLUMNS);
  const bar = step * BAR;
  const x = (/** @type {number} */ index) => left + index * step + (step - bar) / 2;
  return { left, right, step, bar, x, middle: (index) => x(index) + bar / 2 };
}

/** @param {number} x @param {number} y @param {number} width @param {number} height @param {string} name @returns {Shape} */
export const rect = (x, y, width, height, name) => ({ tag: "rect", at: { x, y, width, height, class: name } });

/** @param {(string|number)[]} parts of its `d` @param {string} name @returns {Shape} */
export const path = (parts, name) => ({ tag: "path", at: { d: parts.join(" "), class: name } });

/** @param {[number, number][]} corners @param {string} name @returns {Shape} */
export const polygon = (corners, name) => ({
  tag: "polygon",
  at: { points: corners.map((corner) => corner.map(round).join()).join(" "), class: name },
});

/** @param {number} x1 @param {number} x2 @param {number} y @param {string} name @returns {Shape} */
export const level = (x1, x2, y, name) => ({ tag: "line", at: { x1, x2, y1: y, y2: y, class: name } });

/** @param {number} x @param {number} y the foot of its letters @param {string} text @param {string} [name] @returns {Shape} */
export const words = (x, y, text, name = "plot-words") => ({ tag: "text", at: { x, y, class: name }, text });

/** @param {string} text @param {number} em @returns {number} how wide it is at most */
export const widthOf = (text, em) => text.length * LETTER * em;

/**
 * Return those of some words that fit beside each other; of two that would touch, the first is kept.
 * @param {Shape[]} all from left to right
 * @param {number} em
 * @param {number} right where the room ends
 * @returns {Shape[]}
 */
export function fitting(all, em, right) {
  let end = 0;
  return all.filter(({ at, text = "" }) => {
    const [start, wide] = [Number(at.x), widthOf(text, em)];
    if (start < end || start + wide > right) return false;
    end = start + wide + em / 4;
    return true;
  });
}

/** @param {number} value @returns {number} to a tenth of a unit, so that a drawing stays short */
export const round = (value) => Math.round(value * 10) / 10;
