/**
 * Who is with the client, on an ordinary day. On a day on which an arm stops, or should be seen, that part of the page names them.
 */

import { drawWho } from "../letters/who.js";
import { find } from "../parts/pieces.js";

const BE_SEEN = "rest-be-seen";

/** @param {import("../pure/dose/today.js").ArmDay} day @returns {boolean} whether it is a rest after which the arm should be seen */
export function shouldBeSeen({ why, isHeldNow }) {
  return !isHeldNow && why.includes(BE_SEEN);
}

/** @param {import("./page.js").Context} context */
export function seen({ practitioner, days }) {
  const isNamedElsewhere = days.some((day) => day.isHeldNow || shouldBeSeen(day));
  return practitioner && !isNamedElsewhere ? practitioner : null;
}

/**
 * @param {HTMLElement} part
 * @param {import("./page.js").Context} context
 * @param {import("../main.js").Edges} edges
 */
export function draw(part, { practitioner }, { words }) {
  find(part, "[data-body]").replaceChildren(...drawWho(words, practitioner));
}
