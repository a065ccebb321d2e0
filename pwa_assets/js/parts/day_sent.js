/**
 * What waits to be sent, and when the practice was last reached.
 */

import { fillSlots, one, piece } from "./pieces.js";

/** @param {import("../screens/day.js").Context} context */
export function seen({ waiting, lastSyncAt }) {
  return { waiting, lastSyncAt };
}

/**
 * @param {HTMLElement} part
 * @param {import("../screens/day.js").Context} context
 * @param {import("../main.js").Edges} edges
 */
export function draw(part, { waiting, lastSyncAt }, { words }) {
  part.toggleAttribute("data-waits", waiting > 0);
  one(part, "[data-body]").replaceChildren(
    fillSlots(piece("sent"), {
      waiting: waiting ? words.plural("sent.waiting", waiting) : words.say("sent.all"),
      last: lastSyncAt ? words.fill("sent.last", { when: words.instant(lastSyncAt) }) : words.say("sent.never"),
    }),
  );
}
