/**
 * The log as a table: a row for each set, each arm's morning, and each other entry. Pure.
 *
 * @typedef {{event: import("../dose/daybook.js").Event, state: string}} Kept an entry, and whether it was sent
 * @typedef {Kept & {changed: ""|"corrected"|"withdrawn"}} Read an entry as it reads now; a withdrawn one as it read before
 * @typedef {Record<string, string|number|boolean|null>} TableRow
 */

import { correctedEntries } from "../dose/corrections.js";
import { fitsKind } from "../sync/entry_check.js";

const COLUMNS = [
  "day",
  "at",
  "kind",
  "arm",
  "pain",
  "worst",
  "sharp",
  "movement",
  "reps",
  "load_kg",
  "range",
  "more",
  "state",
  "changed",
];
/** A spreadsheet reads a text that begins with one of these as a formula. */
const FORMULA = /^[=+\-@\t\r]/;
const BREAK = "\r\n";
/** Spreadsheets read the file as UTF-8 by it. */
const MARK = "\uFEFF";

/**
 * @param {Kept[]} kept
 * @returns {TableRow[]}
 */
export function tableOf(kept) {
  return readNow(kept).flatMap(({ event, state, changed }) => {
    const head = { day: event.on, at: event.at, kind: event.kind, state, changed };
    return cellsOf(event).map((cells) => ({ ...head, ...cells }));
  });
}

/**
 * Return the log with its corrections applied; the corrections themselves are left out.
 * @param {Kept[]} kept
 * @returns {Read[]} in the order of `kept`. An entry of a kind that this phone does not know stays as it is
 */
export function readNow(kept) {
  const now = new Map(correctedEntries(kept.map(({ event }) => event)).map((event) => [event.id, event]));
  const noted = kept.filter(({ event }) => event.kind !== "entry_corrected");
  return noted.map(({ event, state }) => {
    const reads = now.get(event.id);
    return { event: reads ?? event, state, changed: changeOf(event, reads) };
  });
}

/** @param {Kept["event"]} event @param {Kept["event"]|undefined} reads the entry after corrections @returns {Read["changed"]} */
function changeOf(event, reads) {
  if (reads) return reads === event ? "" : "corrected";
  return fitsKind(event.kind, event.body) ? "withdrawn" : "";
}

/** @param {import("../dose/daybook.js").Event} event @returns {TableRow[]} */
function cellsOf({ kind, body }) {
  if (kind === "morning_reported") {
    return Object.entries(body.arms).map(([arm, { pain, sharp = false }]) => ({ arm, pain, sharp }));
  }
  if (kind !== "session_finished") return [{ more: JSON.stringify(body) }];
  return Object.entries(body.arms).flatMap(([arm, { sets, worst = null, sharp = false }]) => {
    const whole = { arm, worst, sharp, more: body.ended };
    const played = sets.map(({ movement, reps, load_kg, range }) => ({ ...whole, movement, reps, load_kg, range }));
    return played.length ? played : [whole];
  });
}

/**
 * Writes a table as RFC 4180 has it, https://www.rfc-editor.org/rfc/rfc4180.
 * @param {TableRow[]} rows
 * @returns {string}
 */
export function csvOf(rows) {
  const lines = rows.map((row) => COLUMNS.map((name) => quoted(row[name] ?? "")));
  return MARK + [COLUMNS, ...lines].map((cells) => cells.join(",") + BREAK).join("");
}

/** @param {string|number|boolean} cell @returns {string} in quotes where it holds a sign with a meaning of its own */
function quoted(cell) {
  const text = typeof cell === "string" && FORMULA.test(cell) ? `'${cell}` : String(cell);
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
