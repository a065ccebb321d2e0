/**
 * What the log says of each day, whatever the order in which its events came: the mirror of the
 * server's daybook. Copies count once, corrections take the place of what they correct.
 *
 * @typedef {{id: string, kind: string, v: number, on: string, at: string, zone: string, seq: number, body: any}} Event
 * @typedef {import("./almanac.js").Facts} Facts
 */

import { NOTHING_YET, responseOf } from "./almanac.js";
import { addDays } from "./local_day.js";

/**
 * The events that hold, each with its latest body; withdrawn ones are gone.
 * Of several corrections of one entry, that with the greatest counter holds, then the greatest id.
 * @param {Event[]} events
 * @returns {Event[]} by id
 */
export function inForce(events) {
  const byId = new Map(events.map((event) => [event.id, event]));
  const fixes = new Map();
  for (const fix of [...byId.values()].filter(isCorrection).sort(byCounter)) {
    const target = byId.get(fix.body.replaces);
    if (target && fits(target.kind, fix.body.body)) fixes.set(target.id, fix.body.body);
  }
  return [...byId.values()]
    .filter((event) => !isCorrection(event) && fixes.get(event.id) !== null)
    .map((event) => (fixes.has(event.id) ? { ...event, body: fixes.get(event.id) } : event))
    .sort((one, other) => compare(one.id, other.id));
}

/**
 * @param {Event[]} events
 * @param {string} arm "right" or "left"
 * @returns {Map<string, Facts>} by day
 */
export function factsOf(events, arm) {
  /** @type {Map<string, Facts>} */
  const days = new Map();
  for (const event of inForce(events)) {
    const [on, facts] = told(event, arm);
    if (on) days.set(on, merge(days.get(on) ?? NOTHING_YET, facts));
  }
  return days;
}

/**
 * The releases that count: each covers every sharp entry about a day before its own.
 * @param {{cube: string}} bundle
 * @param {Event[]} events
 * @param {string} arm
 * @returns {Map<string, number>} rung by the day on which the practice ends a hold; of two, the lower
 */
export function releasesOf(bundle, events, arm) {
  /** @type {Map<string, number>} */
  const days = new Map();
  const released = events.filter((one) => one.kind === "hold_released" && one.body?.arms?.[arm]);
  const sharp = released.length > 0 ? sharpEntries(bundle, events, arm) : [];
  for (const { on, body } of released) {
    const { rung, covers } = body.arms[arm];
    const isCovering = sharp.every((entry) => entry.on >= on || covers.includes(entry.id));
    if (isCovering) days.set(on, Math.min(rung, days.get(on) ?? rung));
  }
  return days;
}

/**
 * @param {{cube: string}} bundle
 * @param {Event[]} events
 * @param {string} arm
 * @returns {{id: string, on: string}[]} every entry that alone makes a day sharp, and the day it speaks of
 */
function sharpEntries(bundle, events, arm) {
  return inForce(events).flatMap((event) => {
    const [on, facts] = told(event, arm);
    const isSharp = on && responseOf(bundle, merge(NOTHING_YET, facts), null) === "sharp";
    return isSharp ? [{ id: event.id, on }] : [];
  });
}

/**
 * @param {Event[]} events
 * @param {string} kind
 * @param {string} on
 * @returns {Event[]} those that hold, of one kind and day, by id
 */
export function eventsOn(events, kind, on) {
  return inForce(events).filter((event) => event.kind === kind && event.on === on);
}

/**
 * @param {Event[]} events
 * @returns {string|null} the day on which the first routine was received
 */
export function firstDay(events) {
  const days = events.filter((event) => event.kind === "routine_received").map((event) => event.on);
  return days.sort()[0] ?? null;
}

/**
 * What one event says of which day.
 * @param {Event} event
 * @param {string} arm
 * @returns {[string|null, Partial<Facts>]}
 */
function told(event, arm) {
  const own = event.body?.arms?.[arm];
  if (event.kind === "session_finished" && own) {
    const warmed = event.body.ways?.includes("before_sport") ? 1 : 0;
    return [event.on, { sessions: 1, warmed, during: own.worst, sharp: own.sharp }];
  }
  if (event.kind === "morning_reported" && own) {
    return [addDays(event.on, -1), { morning: own.pain, sharp: own.sharp }];
  }
  if (event.kind === "warning_raised" && event.body.arms.includes(arm)) return [event.on, { sharp: true }];
  return [null, {}];
}

/**
 * @param {Facts} one
 * @param {Partial<Facts>} other
 * @returns {Facts}
 */
function merge(one, other) {
  return {
    sessions: one.sessions + (other.sessions ?? 0),
    warmed: (one.warmed ?? 0) + (other.warmed ?? 0),
    during: worst(one.during, other.during ?? null),
    morning: worst(one.morning, other.morning ?? null),
    sharp: one.sharp || other.sharp === true,
  };
}

/**
 * @param {number|null} one
 * @param {number|null} other
 */
function worst(one, other) {
  return one === null ? other : other === null ? one : Math.max(one, other);
}

/** @param {Event} event */
function isCorrection(event) {
  return event.kind === "entry_corrected";
}

/**
 * @param {string} kind
 * @param {any} body null withdraws the entry
 */
function fits(kind, body) {
  if (body === null) return true;
  if (kind === "session_finished" || kind === "morning_reported") return typeof body?.arms === "object";
  return kind === "warning_raised" ? Array.isArray(body?.arms) : kind !== "entry_corrected";
}

/**
 * @param {Event} one
 * @param {Event} other
 */
function byCounter(one, other) {
  return one.seq - other.seq || compare(one.id, other.id);
}

/**
 * @param {string} one
 * @param {string} other
 */
function compare(one, other) {
  return one < other ? -1 : one > other ? 1 : 0;
}
