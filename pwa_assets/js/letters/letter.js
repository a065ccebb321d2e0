/**
 * One letter of the list: when, who, the words, and where it is now.
 */

import { fillSlots, find, onAct, piece } from "../parts/pieces.js";

/** @typedef {import("../pure/letters/thread.js").Letter} Letter */
/** @typedef {import("../edges/storage/journal.js").Row} Row */

/** In these phases nothing can be sent until the phone is linked again. */
const UNLINKED = ["signed_out", "other_client", "refused"];

/**
 * @param {Letter} letter
 * @param {Row|undefined} row of the phone's storage
 * @param {import("../main.js").Edges} edges
 * @param {{seen: import("./page.js").Seen, onTakenBack: () => Promise<void>, signal: AbortSignal}} rest
 * @returns {DocumentFragment}
 */
export function drawLetter(letter, row, edges, { seen, onTakenBack, signal }) {
  const { words, clock } = edges;
  const [isToday, mayTakeBack] = [letter.on === clock.today(), letter.isOwn && row?.state !== "sent"];
  const node = fillSlots(piece("letter"), {
    on: isToday ? words.say("letters.today") : words.date(letter.on),
    by: letter.isOwn ? words.say("letters.you") : letter.by,
    text: letter.text,
    state: letter.isOwn ? stateOf(letter, row, edges) : seen.wasNew.has(letter.id) ? words.say("letters.new") : null,
  });
  find(node, ".letter").toggleAttribute("data-own", letter.isOwn);
  find(node, '[data-act="take_back"]').hidden = !mayTakeBack;
  onAct(node, "take_back", () => void takeBack(letter, edges, onTakenBack), signal);
  return node;
}

/** @param {Letter} letter of the client @param {Row|undefined} row @param {import("../main.js").Edges} edges */
function stateOf({ isRead }, row, { words, sync, clock }) {
  if (isRead) return words.say("letters.is_read");
  if (row?.refusal) return words.fill("letters.refused", row.refusal);
  if (row?.state === "sent") return row.sentAt ? sentText(row.sentAt, words, clock.now()) : words.say("letters.sent");
  if (UNLINKED.includes(sync.phase())) return words.say("letters.unlinked");
  return words.say(sync.phase() === "busy" ? "letters.sending" : "letters.waits");
}

/** @param {number} at ms @param {import("../edges/screen/words.js").Words} words @param {number} now ms */
function sentText(at, words, now) {
  const isToday = new Date(at).toDateString() === new Date(now).toDateString();
  return words.fill("letters.sent_at", { when: isToday ? words.time(at) : words.instant(at) });
}

/** @param {Letter} letter @param {import("../main.js").Edges} edges @param {() => Promise<void>} onTakenBack */
async function takeBack({ id }, { store, clock, words, announce }, onTakenBack) {
  const isBack = await store.takeBackLetter(id, clock.today());
  if (isBack) await onTakenBack();
  announce(words.say(isBack ? "letters.taken_back" : "letters.too_late"));
}
