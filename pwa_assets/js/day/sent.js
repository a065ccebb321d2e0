/**
 * How many entries wait to be sent, when the server last answered, and whether the page needs a network.
 */

import { fillSlots, find, piece } from "../parts/pieces.js";

/**
 * @param {{isKept: boolean|null}} context
 * @param {import("../edges/screen/words.js").Words} words
 * @returns {string|null} whether the page opens without a network; null while that is not known
 */
export function keptText({ isKept }, words) {
  return isKept === null ? null : words.say(isKept ? "kept.whole" : "kept.not_yet");
}

/** @param {import("./page.js").Context} context */
export function seen(context) {
  return { waiting: context.waiting, lastSyncAt: context.lastSyncAt, isKept: context.isKept };
}

/**
 * @param {HTMLElement} part
 * @param {import("./page.js").Context} context
 * @param {import("../main.js").Edges} edges
 */
export function draw(part, context, { words }) {
  const { waiting, lastSyncAt } = context;
  part.toggleAttribute("data-waits", waiting > 0);
  find(part, "[data-body]").replaceChildren(
    fillSlots(piece("sent"), {
      waiting: waiting ? words.plural("sent.waiting", waiting) : words.say("sent.all"),
      last: lastSyncAt ? words.fill("sent.last", { when: words.instant(lastSyncAt) }) : words.say("sent.never"),
      kept: context.isKept ? keptText(context, words) : null,
    }),
  );
}
