/**
 * The letters: what both sides wrote, the newest last, and the letter that is written just now.
 */

import { fillSlots, find, onAct, piece } from "../parts/pieces.js";
import { lettersOf } from "../pure/letters/thread.js";
import { drawLetter } from "./letter.js";
import { showWho } from "./who.js";
import { wireWriting } from "./writing.js";

/** So many are shown at first, so that the field below them is near. */
const SHOWN_AT_FIRST = 6;

/**
 * @typedef {{isAll: boolean, wasNew: Set<string>, drawn: string}} Seen isAll: whether the earlier letters are shown too;
 *   wasNew: the letters that were not read before this page was opened; drawn: what the list was drawn from
 */

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @returns {() => void} stop
 */
export function start(root, edges) {
  const over = new AbortController();
  /** @type {Seen} */
  const seen = { isAll: false, wasNew: new Set(), drawn: "" };
  root.replaceChildren(piece("letters", "screen"));
  const writing = wireWriting(root, edges, over.signal);
  const redraw = () => void draw(root, edges, seen, writing.show, over.signal);
  const showAll = () => {
    seen.isAll = true;
    redraw();
  };
  onAct(root, "earlier", showAll, over.signal);
  document.addEventListener("visibilitychange", redraw, { signal: over.signal });
  const stops = [edges.store.onChange(redraw), edges.store.onChange(writing.follow), edges.sync.onChange(redraw)];
  redraw();
  return () => {
    over.abort();
    writing.keep();
    for (const stop of stops) stop();
  };
}

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @param {Seen} seen
 * @param {() => Promise<void>} onTakenBack called once a letter's text is in the draft again
 * @param {AbortSignal} signal
 */
async function draw(root, edges, seen, onTakenBack, signal) {
  const { store, sync, words, clock } = edges;
  const [rows, practitioner] = await Promise.all([store.letterRows(), store.getMeta("practitioner")]);
  if (signal.aborted) return;
  const letters = lettersOf(rows.map(({ event }) => event));
  const shown = seen.isAll ? letters : letters.slice(-SHOWN_AT_FIRST);
  noteRead(shown, edges, seen);
  const drawn = JSON.stringify([rows, shown.length, practitioner, sync.phase(), clock.today(), [...seen.wasNew]]);
  // What is on the screen stays there while nothing changes: somebody may be about to press something in it.
  if (drawn === seen.drawn) return;
  seen.drawn = drawn;
  fillSlots(root, {
    title: practitioner?.name ? words.fill("letters.you_and", { name: practitioner.name }) : words.say("title.letters"),
    read: practitioner?.letters_read ? words.fill("letters.read", { when: practitioner.letters_read }) : null,
  });
  find(root, '[data-act="earlier"]').hidden = shown.length === letters.length;
  find(root, "[data-none]").hidden = letters.length > 0;
  const byId = new Map(rows.map((row) => [row.id, row]));
  const items = shown.map((letter) => drawLetter(letter, byId.get(letter.id), edges, { seen, onTakenBack, signal }));
  find(root, ".letters").replaceChildren(...items);
  await showWho(root, edges, { mayWrite: false });
}

/**
 * Puts on record that the practice's letters are read: they stand on the screen now, and somebody looks at it.
 * @param {import("../pure/letters/thread.js").Letter[]} letters those on the screen
 * @param {import("../main.js").Edges} edges
 * @param {Seen} seen
 */
function noteRead(letters, { store, clock }, { wasNew }) {
  if (document.visibilityState !== "visible") return;
  const unread = letters.filter(({ id, isOwn, isRead }) => !isOwn && !isRead && !wasNew.has(id)).map(({ id }) => id);
  if (unread.length === 0) return;
  for (const id of unread) wasNew.add(id);
  void store.addEvents({ kind: "letter_read", on: clock.today(), body: { letters: unread } });
}
