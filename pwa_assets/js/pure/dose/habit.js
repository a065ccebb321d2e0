/**
 * The habit that the practitioner chose, and the last seven days of it. It has no part in any dose.
 *
 * @typedef {import("./daybook.js").Event} Event
 * @typedef {{id: string, choice: string, days: {on: string, isKept: boolean}[], isUnsuited: boolean}} Chosen choice: the entry that chose it;
 *   days: the last seven, the oldest first
 */

import { addDays } from "../calendar/local_day.js";
import { eventsOn } from "./daybook.js";

const WEEK = 7;

/**
 * @param {Event[]} events
 * @param {string} today
 * @returns {Chosen|null} null where none is chosen
 */
export function chosenHabit(events, today) {
  // All choices are written by the practice's server, which numbers them one after the other.
  const [newest] = eventsOn(events, "habit_chosen", null).sort((first, second) => second.seq - first.seq);
  const id = newest?.body.habit;
  if (!id) return null;
  const noted = eventsOn(events, "habit_noted", null).filter(({ body }) => body.habit === id);
  const kept = new Set(noted.filter(({ body }) => body.kept).map(({ on }) => on));
  const days = Array.from({ length: WEEK }, (_, at) => addDays(today, at - WEEK + 1));
  const isUnsuited = noted.some(({ body }) => body.suits === false && body.chosen === newest.id);
  return { id, choice: newest.id, days: days.map((on) => ({ on, isKept: kept.has(on) })), isUnsuited };
}

/** @param {Event[]} events @param {string} id @param {string} on @returns {string[]} the ids of the ticks of a day */
export function ticksOn(events, id, on) {
  return eventsOn(events, "habit_noted", on).flatMap((event) =>
    event.body.habit === id && event.body.kept ? [event.id] : [],
  );
}
