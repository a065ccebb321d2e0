/**
 * The questions of the reports: a rating is eleven radio buttons, and no answer is chosen beforehand.
 *
 * @typedef {{node: DocumentFragment, first: HTMLElement, read(): number|null}} Scale
 * @typedef {{node: DocumentFragment, first: HTMLElement, read(): boolean|null}} YesNo
 */

import { fillSlots, find, piece } from "./pieces.js";

/**
 * @param {import("../edges/screen/words.js").Words} words
 * @param {{name: string, legend: string, value?: number|null}} about name: unique on the page
 * @returns {Scale}
 */
export function createScale(words, { name, legend, value = null }) {
  const node = fillSlots(piece("scale"), { legend, low: words.say("scale.low"), high: words.say("scale.high") });
  for (const mark of node.querySelectorAll("[data-number]")) {
    mark.textContent = words.number(Number(mark.getAttribute("data-number")));
  }
  const read = radios(node, name, value === null ? null : String(value));
  return {
    node,
    first: find(node, "input"),
    read: () => {
      const chosen = read();
      return chosen === null ? null : Number(chosen);
    },
  };
}

/**
 * @param {{name: string, legend: string, value?: boolean|null}} about name: unique on the page
 * @returns {YesNo}
 */
export function createYesNo({ name, legend, value = null }) {
  const node = fillSlots(piece("yes_no"), { legend });
  const read = radios(node, name, value === null ? null : value ? "yes" : "no");
  return {
    node,
    first: find(node, "input"),
    read: () => {
      const chosen = read();
      return chosen === null ? null : chosen === "yes";
    },
  };
}

/**
 * @param {DocumentFragment} node
 * @param {string} name
 * @param {string|null} value
 * @returns {() => string|null} what is chosen
 */
function radios(node, name, value) {
  const inputs = [...node.querySelectorAll("input")];
  for (const input of inputs) {
    input.name = name;
    input.checked = input.value === value;
  }
  return () => inputs.find((input) => input.checked)?.value ?? null;
}
