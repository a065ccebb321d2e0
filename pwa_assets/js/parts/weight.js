/**
 * A weight that no routine of this phone names, in the unit that is written on it.
 */

import { writtenAs } from "../pure/dose/units.js";

/** @param {import("../edges/screen/words.js").Words} words @param {number} kg @returns {string} */
export function weightText(words, kg) {
  const { unit, amount } = writtenAs(kg);
  return words.fill(`weight.${unit}`, { load: amount });
}
