/**
 * The entries of a log with corrections applied, as on the server (`events/daybook.py`, `sync/log/facts.py`). The order of arrival does not matter.
 *
 * @typedef {import("./daybook.js").Event} Event
 */

import { fitsKind } from "../sync/entry_check.js";
import { stopsAfter, stopsOf } from "./stops.js";

/** A correction, and what only the practice writes. */
const NEVER_CORRECTED =
  "entry_corrected hold_released screening_cleared intake_confirmed intake_corrected habit_chosen course_set return_opened return_ended".split(
    " ",
  );

/** A cache: a page asks for the entries of one log many times. @type {WeakMap<Event[], Event[]>} */
const CORRECTED = new WeakMap();

/**
 * Return the entries of a log with corrections applied; withdrawn entries are left out. Where an entry has several corrections,
 * the one with the highest device counter counts, and among equal counters the one with the highest id. One that comes too late to take a
 * stop away counts for nothing.
 * @param {Event[]} events must not be changed afterwards
 * @returns {Event[]} by id
 */
export function correctedEntries(events) {
  const known = CORRECTED.get(events) ?? corrected(events);
  CORRECTED.set(events, known);
  return known;
}

/** @param {Event[]} events @returns {Event[]} */
function corrected(events) {
  const byId = new Map(events.filter(({ kind, body }) => fitsKind(kind, body)).map((event) => [event.id, event]));
  const fixes = new Map();
  const stops = new Map();
  for (const fix of [...byId.values()].filter(isCorrection).sort(byCounter)) {
    const [target, body = null] = [byId.get(fix.body.replaces), fix.body.body];
    if (!target || !mayReplace(target.kind, body)) continue;
    const after = stopsAfter(fix, target, stops.get(target.id) ?? stopsOf(target), body);
    if (!after) continue;
    stops.set(target.id, after);
    fixes.set(target.id, body);
  }
  return [...byId.values()]
    .filter((event) => !isCorrection(event) && fixes.get(event.id) !== null)
    .map((event) => (fixes.has(event.id) ? { ...event, body: fixes.get(event.id) } : event))
    .sort((first, second) => compare(first.id, second.id));
}

/** @param {Event} event */
function isCorrection(event) {
  return event.kind === "entry_corrected";
}

/**
 * @param {string} kind
 * @param {unknown} body null withdraws the entry
 */
function mayReplace(kind, body) {
  if (NEVER_CORRECTED.includes(kind)) return false;
  return body === null || fitsKind(kind, body);
}

/**
 * @param {Event} first
 * @param {Event} second
 */
function byCounter(first, second) {
  return first.seq - second.seq || compare(first.id, second.id);
}

/**
 * @param {string} first
 * @param {string} second
 */
function compare(first, second) {
  return first < second ? -1 : first > second ? 1 : 0;
}
