/**
 * Leaving this phone: sync once more, show how many entries would be lost, then delete everything.
 */

import { fillSlots, find, onAct, piece } from "../parts/pieces.js";

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @param {() => void} save
 * @param {AbortSignal} signal
 */
export function wireLeaving(root, edges, save, signal) {
  const section = find(root, "[data-leave]");
  const before = [...section.childNodes];
  const ask = async () => {
    await edges.sync.now();
    const waiting = await edges.store.unsent();
    const { words } = edges;
    const count = waiting.length ? words.plural("leave.count", waiting.length) : words.say("leave.sure");
    const sure = fillSlots(piece("leave_sure"), { count });
    onAct(sure, "stay", () => section.replaceChildren(...before), signal);
    onAct(sure, "save_first", save, signal);
    onAct(sure, "leave_now", () => void leave(edges), signal);
    section.replaceChildren(sure);
    find(section, "button").focus();
  };
  onAct(root, "leave", () => void ask(), signal);
}

/** @param {import("../main.js").Edges} edges */
async function leave({ server, store, go }) {
  await server.leave();
  await store.erase();
  go("#join");
}
