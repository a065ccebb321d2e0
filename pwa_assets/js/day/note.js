/**
 * The practitioner's note that came with this version of the routine. Once it is read, it is shown on the page 'This phone' only.
 */

import { fillSlots, find, onAct, piece } from "../parts/pieces.js";
import { correctedEntries } from "../pure/dose/corrections.js";

/** @param {import("./page.js").Context} context */
export function seen({ bundle, events }) {
  if (!bundle?.routine.note) return null;
  const { version, note } = bundle.routine;
  const isRead = correctedEntries(events).some(({ kind, body }) => kind === "note_read" && body.version === version);
  return isRead ? null : { version, note };
}

/**
 * @param {HTMLElement} part
 * @param {import("./page.js").Context} context
 * @param {import("../main.js").Edges} edges
 * @param {AbortSignal} signal
 */
export function draw(part, { bundle, today }, edges, signal) {
  const { version, note } = bundle.routine;
  const node = fillSlots(piece("note"), { note, note_of: edges.words.fill("note.of", { version }) });
  onAct(node, "read", () => void keepReading(edges, today, version), signal);
  find(part, "[data-body]").replaceChildren(node);
}

/**
 * @param {import("../main.js").Edges} edges
 * @param {string} on
 * @param {number} version
 */
async function keepReading({ store, words, announce }, on, version) {
  // The button disappears. The focus must be elsewhere by then.
  find(document, "#page h1").focus({ preventScroll: true });
  await store.addEvents({ kind: "note_read", on, body: { version } });
  announce(words.say("day.saved"));
}
