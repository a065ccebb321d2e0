/**
 * Leaving this phone: it sends once more, then deletes everything. It is not possible while entries are neither sent nor saved.
 */

import { fillSlots, find, onAct, piece } from "../parts/pieces.js";

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @param {() => Promise<number>} save saves all entries as a file, and returns how many they are
 * @param {AbortSignal} signal
 */
export function wireLeaving(root, edges, save, signal) {
  const section = find(root, "[data-leave]");
  const before = [...section.childNodes];
  /** How many entries were in the last file. */
  let saved = 0;
  const look = async () => {
    const [waiting, rows] = [await edges.store.unsent(), await edges.store.rows()];
    return { waiting, isSafe: waiting.length === 0 || saved === rows.length };
  };
  const tell = async () => {
    const { waiting, isSafe } = await look();
    const { words } = edges;
    const count = waiting.length ? words.plural("leave.count", waiting.length) : words.say("leave.sure");
    fillSlots(section, { count, blocked: isSafe ? null : words.say("leave.blocked") });
    /** @type {HTMLButtonElement} */ (find(section, '[data-act="leave_now"]')).disabled = !isSafe;
  };
  const saveFirst = async () => {
    saved = await save();
    await tell();
  };
  const leaveNow = async () => {
    if ((await look()).isSafe) await leave(edges);
    else await tell();
  };
  const ask = async () => {
    await edges.sync.now();
    const sure = piece("leave_sure");
    onAct(sure, "stay", () => section.replaceChildren(...before), signal);
    onAct(sure, "save_first", () => void saveFirst(), signal);
    onAct(sure, "leave_now", () => void leaveNow(), signal);
    section.replaceChildren(sure);
    await tell();
    find(section, "button").focus();
  };
  onAct(root, "leave", () => void ask(), signal);
}

/** @param {import("../main.js").Edges} edges */
async function leave({ server, store, naming, go }) {
  await server.leave();
  await store.erase();
  naming.forget();
  go("#join");
}
