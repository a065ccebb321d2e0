/**
 * The part of the log that today is computed from. Opening the app therefore takes the same time, however long the log is.
 *
 * Today follows from the anchors, so only entries from a few days before them are needed. Of older entries these still count:
 * those of the practice, warnings, those that a release must cover, and the last report and sessions before that day. The
 * rows are found by the indexes `kind` (kind and day), `replaces` (of corrections) and `isSharp` (see `markSharp`).
 *
 * @typedef {import("./journal.js").Row} Row
 */

import { isSharp } from "../../pure/dose/stops.js";
import { settled } from "./database.js";

export const FOR_GOOD = [
  "hold_released",
  "habit_chosen",
  "course_set",
  "routine_received",
  "note_read",
  "screening_cleared",
  "letter_answered",
  "letter_read",
  "activities_named",
];
/** These may have been taken back, so their corrections are needed too, however old they are. */
export const FOR_GOOD_WITH_FIXES = ["warning_raised", "screening_answered", "activity_rated", "intake_told"];
const FROM_THE_DAY_ON = [
  "session_finished",
  "morning_reported",
  "away_noted",
  "exposure_noted",
  "habit_noted",
  "entry_corrected",
];
/** How many reports and sessions before that day are read: some may be withdrawn, or be about one arm only. */
const FEW = 10;

/**
 * @param {IDBTransaction} tx over events
 * @param {string} from the first day of which every entry is needed
 * @returns {Promise<import("./journal.js").Event[]>} in the order in which they were kept
 */
export async function nearLog(tx, from) {
  const store = tx.objectStore("events");
  const byKind = store.index("kind");
  /** @param {string} kind @param {string} day */
  const after = (kind, day) => settled(byKind.getAll(IDBKeyRange.bound([kind, day], [kind, []])));
  const last = (/** @type {string} */ kind) => lastBefore(byKind, kind, from).then((found) => withFixes(store, found));
  /** @param {string} kind */
  const always = (kind) => after(kind, "").then((found) => withFixes(store, found));
  const lists = await Promise.all([
    ...FOR_GOOD.map((kind) => after(kind, "")),
    ...FOR_GOOD_WITH_FIXES.map(always),
    ...FROM_THE_DAY_ON.map((kind) => after(kind, from)),
    settled(store.index("isSharp").getAll()),
    last("morning_reported"),
    last("session_finished"),
  ]);
  const rows = new Map(lists.flat().map((/** @type {Row} */ row) => [row.row ?? 0, row]));
  return [...rows.values()].sort((first, second) => (first.row ?? 0) - (second.row ?? 0)).map(({ event }) => event);
}

/**
 * @param {IDBIndex} byKind
 * @param {string} kind
 * @param {string} from
 * @returns {Promise<Row[]>} the last few rows before a day
 */
function lastBefore(byKind, kind, from) {
  const request = byKind.openCursor(IDBKeyRange.bound([kind, ""], [kind, from], false, true), "prev");
  /** @type {Row[]} */
  const found = [];
  return new Promise((resolve, reject) => {
    request.onerror = () => reject(request.error);
    request.onsuccess = () => {
      const cursor = request.result;
      if (cursor) found.push(cursor.value);
      if (cursor && found.length < FEW) cursor.continue();
      else resolve(found);
    };
  });
}

/** @param {IDBObjectStore} store @param {Row[]} rows @returns {Promise<Row[]>} the rows and their corrections */
export async function withFixes(store, rows) {
  const fixes = await Promise.all(rows.map(({ id }) => settled(store.index("replaces").getAll(id))));
  return [...rows, ...fixes.flat()];
}

/**
 * Marks an entry, the entry that it corrects and its corrections, if one of them says that an arm had sharp pain. All of them
 * are needed to know whether a later release covers it, however old they are.
 * @param {IDBTransaction} tx over events
 * @param {import("./journal.js").Event} event that was just kept
 */
export async function markSharp(tx, event) {
  const store = tx.objectStore("events");
  const id = event.kind === "entry_corrected" ? event.body.replaces : event.id;
  const [target, fixes] = await Promise.all([
    settled(store.index("id").get(id)),
    settled(store.index("replaces").getAll(id)),
  ]);
  /** @type {Row[]} */
  const family = [target, ...fixes].filter(Boolean);
  if (!family.some((row) => isOfStop(row.event))) return;
  for (const row of family) if (!row.isSharp) store.put({ ...row, isSharp: 1 });
}

/** @param {import("./journal.js").Event} event */
const isOfStop = (event) => Object.values(armsOf(event)).some(isSharp);

/**
 * @param {import("./journal.js").Event} event
 * @returns {Record<string, any>} what it says of each arm; nothing where its body has another shape
 */
function armsOf({ kind, body }) {
  const said = /** @type {any} */ (kind === "entry_corrected" ? body.body : body);
  const arms = said?.arms;
  return typeof arms === "object" && arms !== null && !Array.isArray(arms) ? arms : {};
}
