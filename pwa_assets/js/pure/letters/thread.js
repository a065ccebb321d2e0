/**
 * The letters between the client and the practice, with what each side has read; it mirrors the server's `events/letters.py`. Pure.
 *
 * @typedef {import("../../wire.js").AnyEntry} Event
 * @typedef {{id: string, on: string, at: string, text: string, isOwn: boolean, by: string, isRead: boolean}} Letter
 *   isOwn: the client wrote it; by: who wrote it in the practice, "" for the client's own; isRead: by the other side
 */

import { fitsKind } from "../sync/entry_check.js";

/** The kinds of which a thread is made, but for the corrections that take a letter back. */
export const LETTER_KINDS = ["letter_written", "letter_answered", "letter_seen", "letter_read"];

/**
 * @param {Event[]} events in any order; those of other kinds are ignored
 * @returns {Letter[]} the oldest first, by the instants that the devices say. A letter that the client has taken back is left out,
 *   unless the practice has read it. No correction changes the text of a letter
 */
export function lettersOf(events) {
  const known = [...new Map(events.map((event) => [event.id, event])).values()].filter(({ kind, body }) =>
    fitsKind(kind, body),
  );
  const [seen, read] = [readIn(known, "letter_seen"), readIn(known, "letter_read")];
  const takenBack = new Set(known.flatMap(takenBackBy));
  /** @type {Letter[]} */
  const letters = [];
  for (const { kind, id, on, at, body } of known) {
    if (kind === "letter_written" && (seen.has(id) || !takenBack.has(id)))
      letters.push({ id, on, at, text: body.text, isOwn: true, by: "", isRead: seen.has(id) });
    if (kind === "letter_answered")
      letters.push({ id, on, at, text: body.text, isOwn: false, by: body.by, isRead: read.has(id) });
  }
  return letters.sort((a, b) => Date.parse(a.at) - Date.parse(b.at) || (a.id < b.id ? -1 : 1));
}

/** @param {Event[]} events @returns {Letter[]} those of the practice that the client has not read */
export function unreadOf(events) {
  return lettersOf(events).filter(({ isOwn, isRead }) => !isOwn && !isRead);
}

/** @param {Event[]} events @param {"letter_seen"|"letter_read"} kind @returns {Set<string>} the ids that they name */
function readIn(events, kind) {
  return new Set(events.flatMap((event) => (event.kind === kind ? event.body.letters : [])));
}

/** @param {Event} event @returns {string[]} the id of the entry that it takes back */
function takenBackBy({ kind, body }) {
  return kind === "entry_corrected" && (body.body ?? null) === null ? [body.replaces] : [];
}

/**
 * @param {string} text as it was typed
 * @returns {string} without the spaces around it, and with a sign in place of each half of a broken character
 */
export function tidied(text) {
  return text.trim().replace(/\p{Surrogate}/gu, "\uFFFD");
}

/** @param {string} text @returns {number} its length in code points, as the server counts it */
export const lengthOf = (text) => [...text].length;
