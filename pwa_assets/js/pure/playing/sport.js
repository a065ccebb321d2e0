/**
 * What the log says of sport: today's, and the mornings after it. Nothing here decides; mornings are shown beside sport and blamed on
 * nothing.
 *
 * @typedef {import("../dose/daybook.js").Event} Event
 * @typedef {Extract<Event, {kind: "exposure_noted"}>} Noted
 */

import { addDays } from "../calendar/local_day.js";
import { eventsOn } from "../dose/daybook.js";

/** The warm-up ends as the sport begins, and both are about this long on the ruler, hours. */
const PART_HOURS = 0.5;

/** The hour of a text, as a field for a time has it. @param {string} text HH:MM @returns {number} */
export function hourOfText(text) {
  const [hours, minutes] = text.split(":").map(Number);
  return hours + minutes / 60;
}

/** @param {Event[]} events @param {string} on @returns {Noted[]} the sport of a day */
export function sportOn(events, on) {
  return eventsOn(events, "exposure_noted", on).filter(({ body }) => body.what === "sport");
}

/**
 * Return the worst pain on each morning after a day of sport, the latest first.
 * @param {Event[]} events the whole log
 * @param {string} today
 * @param {number} most
 * @returns {number[]}
 */
export function morningsAfter(events, today, most) {
  const days = eventsOn(events, "exposure_noted", null).filter(({ on, body }) => body.what === "sport" && on < today);
  const sport = [...new Set(days.map(({ on }) => on))].sort().reverse();
  return sport.flatMap((on) => worstMorning(events, addDays(on, 1)) ?? []).slice(0, most);
}

/** @param {Event[]} events @param {string} on @returns {number|null} */
function worstMorning(events, on) {
  const pains = eventsOn(events, "morning_reported", on).flatMap(({ body }) =>
    Object.values(body.arms).map(({ pain }) => pain),
  );
  return pains.length ? Math.max(...pains) : null;
}

/**
 * Return the day about the sport as marks of a ruler: the warm-up before, the sport, the session after.
 * @param {number} begins hours from midnight
 * @param {number} minutes
 * @returns {{kind: "dose"|"sport", from: number, to: number}[]}
 */
export function dayAround(begins, minutes) {
  const ends = begins + minutes / 60;
  return [
    { kind: "dose", from: begins - PART_HOURS, to: begins },
    { kind: "sport", from: begins, to: ends },
    { kind: "dose", from: ends, to: ends + PART_HOURS },
  ];
}

/**
 * Return whether a sport is yet to come when it is noted; without a time it is.
 * @param {string} begins HH:MM, or ""
 * @param {number} hour of now, from the midnight with which the day begins
 */
export function isPlanned(begins, hour) {
  return !begins || hourOfText(begins) > hour;
}
