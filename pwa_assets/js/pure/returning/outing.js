/**
 * Sport on the way back as an entry: which one the page asks about, and what is written. Pure.
 *
 * @typedef {import("../dose/daybook.js").Event} Event
 * @typedef {Extract<Event, {kind: "exposure_noted"}>} Noted
 * @typedef {import("../../wire.js").ExposureBody} Body
 */

import { addDays } from "../calendar/local_day.js";
import { eventsOn } from "../dose/daybook.js";

/** @param {Event[]} events @param {string} on @returns {Noted[]} the sport on the way back of a day */
export function outingsOn(events, on) {
  return eventsOn(events, "exposure_noted", on).filter(({ body }) => body.what === "sport" && body.step !== undefined);
}

/** @param {Noted} noted @returns {boolean} whether an arm's number is missing */
export const isUnrated = ({ body }) => Object.values(body.arms ?? {}).some(({ worst }) => worst === null);

/**
 * Return the day that the page asks about, and its entry: today's, else yesterday's while its numbers are missing, else a new one of today.
 * @param {Event[]} events
 * @param {string} today
 * @returns {{on: string, noted: Noted|null}}
 */
export function asksAbout(events, today) {
  const [mine] = outingsOn(events, today);
  if (mine) return { on: today, noted: mine };
  const yesterday = addDays(today, -1);
  const open = outingsOn(events, yesterday).find(isUnrated);
  return open ? { on: yesterday, noted: open } : { on: today, noted: null };
}

/**
 * @param {Noted|null} noted whose step stays
 * @param {{name: string, standing: import("./way.js").Standing}} way
 * @param {{minutes: number, arms: Record<string, number|null>}} answers
 * @returns {Body}
 */
export function bodyOf(noted, { name, standing }, { minutes, arms }) {
  const { step, up } = noted?.body ?? { step: standing.step, up: standing.isFirstOfStep };
  const felt = Object.fromEntries(Object.entries(arms).map(([arm, worst]) => [arm, { worst }]));
  const planned = Object.values(arms).every((worst) => worst === null);
  return { what: "sport", name: name.slice(0, 80), minutes, planned, step, up, arms: felt };
}
