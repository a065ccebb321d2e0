/**
 * The log as a table: a row for each set, each arm's morning, and each other entry. Pure.
 *
 * @typedef {{event: import("../dose/daybook.js").Event, state: string}} Kept an entry, and whether it was sent
 * @typedef {Record<string, string|number|boolean|null>} TableRow
 */

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
];
const BREAK = "\r\n";
/** Spreadsheets read the file as UTF-8 by it. */
const MARK = "\uFEFF";

/**
 * @param {Kept[]} kept
 * @returns {TableRow[]}
 */
export function tableOf(kept) {
  return kept.flatMap(({ event, state }) => {
    const head = { day: event.on, at: event.at, kind: event.kind, state };
    return cellsOf(event).map((cells) => ({ ...head, ...cells }));
  });
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
  const text = String(cell);
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
