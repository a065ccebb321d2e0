/**
 * The page of a movement of the practice's own, from the bundle: the shell has no page of it. Its words are shown as they were written.
 *
 * @typedef {import("../wire.js").Bundle["movements"][string]} Movement
 */

import { find, piece } from "../parts/pieces.js";

/**
 * @param {Movement} [movement]
 * @returns {HTMLElement|null} null for a movement that comes with the program
 */
export function ownLeaf(movement) {
  if (!movement?.own) return null;
  const { name, mistakes, leave_out: leaveOut, own } = movement;
  const leaf = /** @type {HTMLElement} */ (find(piece("movement_own"), "article"));
  leaf.dataset.title = name;
  find(leaf, "[data-how]").replaceChildren(...own.how.map((text) => line("li", text)));
  find(leaf, "[data-mistakes]").replaceChildren(...mistakes.map((text) => line("li", text)));
  for (const part of /** @type {NodeListOf<HTMLElement>} */ (leaf.querySelectorAll("[data-not-so]")))
    part.hidden = mistakes.length === 0;
  find(leaf, "[data-purpose]").textContent = own.purpose;
  const cautions = [...(leaveOut ? [leaveOut] : []), ...own.cautions].map((text) => line("p", text, "leaf-caution"));
  find(leaf, "[data-cautions]").replaceWith(...cautions);
  return leaf;
}

/** @param {string} tag @param {string} text @param {string} [className] */
function line(tag, text, className = "") {
  const made = document.createElement(tag);
  made.textContent = text;
  made.dir = "auto";
  if (className) made.className = className;
  return made;
}
