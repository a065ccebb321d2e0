/**
 * The practice's letters on the day page, until they are read.
 */

import { fillSlots, find, onAct, piece, showFault } from "../parts/pieces.js";
import { unreadOf } from "../pure/letters/thread.js";

/** @param {import("./page.js").Context} context */
export function seen({ events }) {
  const unread = unreadOf(events);
  return unread.length ? unread : null;
}

/**
 * @param {HTMLElement} part
 * @param {import("./page.js").Context} context
 * @param {import("../main.js").Edges} edges
 * @param {AbortSignal} signal
 */
export function draw(part, { events, today }, edges, signal) {
  const unread = unreadOf(events);
  const texts = unread.map(({ text, by, on }) =>
    fillSlots(piece("answer"), { text, by: edges.words.fill("letters.by_on", { by, day: edges.words.date(on) }) }),
  );
  const acts = piece("answer_acts");
  const ids = unread.map(({ id }) => id);
  onAct(acts, "read", () => void keepReading(part, edges, today, ids), signal);
  find(part, "[data-body]").replaceChildren(...texts, acts);
}

/**
 * @param {HTMLElement} part
 * @param {import("../main.js").Edges} edges
 * @param {string} on
 * @param {string[]} letters ids
 */
async function keepReading(part, { store, words, announce }, on, letters) {
  // The button disappears. The focus must be elsewhere by then.
  find(document, "#page h1").focus({ preventScroll: true });
  await store.addEvents({ kind: "letter_read", on, body: { letters } }).then(
    () => announce(words.say("day.saved")),
    () => showFault(part, words.say("day.not_kept"), null),
  );
}
