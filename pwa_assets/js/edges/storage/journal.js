/**
 * The rows of the event log, inside one transaction. A row is never deleted. Its state is
 * waiting (to be sent), sent (the server has it) or refused (kept and shown on the phone, not sent again).
 *
 * @typedef {import("../../pure/dose/daybook.js").Event} Event
 * @typedef {{[K in Event["kind"]]: Omit<Extract<Event, {kind: K}>, "seq">}[Event["kind"]]} Unnumbered
 * @typedef {{row?: number, id: string, event: Event, state: "waiting"|"sent"|"refused", from: "here"|"server",
 *   client: string, refusal: {code: string, message: string}|null, isSharp?: 1, sentAt?: number}} Row isSharp: see near_log.js; sentAt: when the server
 *   said that it has what this phone wrote, ms
 */

import { settled } from "./database.js";
import { markSharp } from "./near_log.js";

const ONLY_THE_PRACTICE_WRITES = [
  "hold_released",
  "screening_cleared",
  "intake_confirmed",
  "intake_corrected",
  "letter_answered",
  "letter_seen",
  "habit_chosen",
  "activities_named",
  "course_set",
  "return_opened",
  "return_ended",
];

/**
 * Append an event of this phone, numbered by the phone's own counter. Idempotent: a second copy changes nothing.
 * @param {IDBTransaction} tx over events and meta
 * @param {Unnumbered} draft
 * @returns {Promise<Event>}
 */
export async function append(tx, draft) {
  const meta = tx.objectStore("meta");
  const known = await rowOf(tx, draft.id);
  if (known) return known.event;
  const [seq, client] = await Promise.all([settled(meta.get("nextSeq")), settled(meta.get("client"))]);
  const event = /** @type {Event} */ ({ ...draft, seq: seq ?? 1 });
  meta.put(event.seq + 1, "nextSeq");
  tx.objectStore("events").add(newRow(event, "waiting", "here", client));
  await markSharp(tx, event);
  return event;
}

/**
 * Set the state of each event by the server's result.
 * @param {IDBTransaction} tx
 * @param {{id: string, status: string, code?: string, message?: string, again?: boolean}[]} results
 * @param {number} at ms
 */
export async function markResults(tx, results, at) {
  for (const result of results) {
    const known = await rowOf(tx, result.id);
    if (!known) continue;
    const isKept = result.status === "stored" || result.status === "duplicate";
    if (isKept) tx.objectStore("events").put({ ...known, state: "sent", refusal: null, sentAt: at });
    else if (!result.again) tx.objectStore("events").put({ ...known, state: "refused", refusal: refusal(result) });
  }
}

/**
 * Merge events that the server sent: of another phone, of the practice, or of this phone from before.
 * @param {IDBTransaction} tx
 * @param {{seq: number, event: Event}[]} pulled
 * @param {string} client
 */
export async function merge(tx, pulled, client) {
  for (const { event } of pulled) {
    const known = await rowOf(tx, event.id);
    if (known) tx.objectStore("events").put({ ...known, state: "sent", refusal: null });
    else {
      tx.objectStore("events").add(newRow(event, "sent", "server", client));
      await markSharp(tx, event);
    }
  }
}

/**
 * Let every sent event wait again, since the server has lost its log. Events that only the practice writes stay sent.
 * @param {IDBTransaction} tx
 */
export async function markAllWaiting(tx) {
  const rows = await settled(tx.objectStore("events").getAll());
  for (const row of rows.filter((each) => each.state === "sent" && isOurs(each))) {
    tx.objectStore("events").put({ ...row, state: "waiting" });
  }
}

/** @param {Row} row */
function isOurs(row) {
  return !ONLY_THE_PRACTICE_WRITES.includes(row.event.kind);
}

/**
 * @param {IDBTransaction} tx
 * @param {string} id
 * @returns {Promise<Row|undefined>}
 */
export function rowOf(tx, id) {
  return settled(tx.objectStore("events").index("id").get(id));
}

/**
 * @param {Event} event
 * @param {Row["state"]} state
 * @param {Row["from"]} from
 * @param {string} client
 * @returns {Row}
 */
function newRow(event, state, from, client) {
  return { id: event.id, event, state, from, client, refusal: null };
}

/** @param {{status: string, code?: string, message?: string}} result */
function refusal(result) {
  return { code: result.code ?? result.status, message: result.message ?? "" };
}
