/**
 * Your data: taking it along as a page, a table or everything; a code for a new phone; leaving this phone; asking to leave the practice.
 */

import { wireCode } from "../joining/code.js";
import { fillSlots, find, onAct, piece, showFault } from "../parts/pieces.js";
import { lettersOf } from "../pure/letters/thread.js";
import { csvOf, tableOf } from "../pure/settings/table.js";
import { wireLeaving } from "./leaving.js";
import { readablePage } from "./readable.js";

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @returns {() => void} stop
 */
export function start(root, edges) {
  const over = new AbortController();
  root.replaceChildren(fillSlots(piece("data", "screen"), { host: location.host }));
  const redraw = () => void draw(root, edges, over.signal);
  const tellSaved = async (/** @type {Promise<unknown>} */ saving) => {
    await saving;
    fillSlots(root, { file: edges.words.say("data.saved") });
  };
  onAct(root, "save_page", () => void tellSaved(savePage(edges)), over.signal);
  onAct(root, "save_table", () => void tellSaved(saveTable(edges)), over.signal);
  onAct(root, "save_file", () => void tellSaved(saveAll(edges)), over.signal);
  wireCode(root, edges, over.signal);
  wireLeaving(root, edges, () => saveAll(edges), over.signal);
  onAct(root, "ask_to_leave", () => void askToLeave(root, edges), over.signal);
  const stops = [edges.store.onChange(redraw), edges.sync.onChange(redraw)];
  redraw();
  return () => {
    over.abort();
    for (const stop of stops) stop();
  };
}

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @param {AbortSignal} signal
 */
async function draw(root, { store, room, words }, signal) {
  const [rows, waiting, isKept] = [await store.rows(), await store.unsent(), await room.isKept()];
  const letterId = await store.getMeta("leaveLetter");
  if (signal.aborted) return;
  const days = new Set(rows.map(({ event }) => event.on)).size;
  const own = lettersOf(rows.map(({ event }) => event)).filter(({ isOwn }) => isOwn);
  // Another phone of this client knows the letter by its text alone.
  const letter = own.find(({ id, text }) => id === letterId || text === words.say("leave.letter"));
  fillSlots(root, {
    days: words.plural("data.days", days),
    waiting: waiting.length ? words.plural("sent.waiting", waiting.length) : words.say("sent.all"),
    room: words.say(isKept ? "about.kept" : "about.not_kept"),
    asked: letter ? words.fill("leave.asked", { day: words.day(letter.on) }) : null,
  });
  find(root, "[data-ask]").hidden = Boolean(letter);
}

/** Writes the letter, and keeps which one it is: its text is another one in another language. @param {HTMLElement} root @param {import("../main.js").Edges} edges */
async function askToLeave(root, { store, clock, words }) {
  const [id, body] = [store.newId(), { text: words.say("leave.letter") }];
  const save = async () => {
    await store.addEvents({ kind: "letter_written", on: clock.today(), body, id });
    await store.setMeta("leaveLetter", id);
  };
  const part = find(root, "[data-ask]");
  find(part, "[data-fault]").hidden = true;
  await save().catch(() => showFault(part, words.say("day.not_kept"), null));
}

/** @param {import("../main.js").Edges} edges */
async function savePage({ store, clock, words, room }) {
  const rows = await store.rows();
  const days = words.plural("data.days", new Set(rows.map(({ event }) => event.on)).size);
  const about = words.fill("data.about", { when: words.instant(clock.now()), days });
  const text = readablePage(rows, words, about);
  room.saveFile(words.fill("file.page", { day: clock.today() }), text, "text/html");
}

/** @param {import("../main.js").Edges} edges */
async function saveTable({ store, clock, words, room }) {
  const text = csvOf(tableOf(await store.rows()));
  room.saveFile(words.fill("file.table", { day: clock.today() }), text, "text/csv");
}

/** @param {import("../main.js").Edges} edges @returns {Promise<number>} how many entries the file holds */
async function saveAll({ store, clock, words, room }) {
  const rows = await store.rows();
  const file = {
    format: 1,
    saved_at: new Date(clock.now()).toISOString(),
    client: await store.getMeta("client"),
    entries: rows.map(({ event, state }) => ({ ...event, state })),
  };
  const text = JSON.stringify(file, null, 2);
  room.saveFile(words.fill("file.name", { day: clock.today() }), text, "application/json");
  return rows.length;
}
