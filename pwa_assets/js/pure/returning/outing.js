/**
 * Sport on the way back as an entry: which one the page asks about, and what is written. Pure.
 *
 * @typedef {import("../dose/daybook.js").Event} Event
 * @typedef {Extract<Event, {kind: "exposure_noted"}>} Noted
 * @typedef {import("../../wire.js").ExposureBody} Body
 * @typedef {{minutes: number, arms: Record<string, number|null>, amount: "fewer"|"asked"|"more", strokes: number|null}} Answers strokes: null where nobody counted
 */

import { addDays } from "../calendar/local_day.js";
import { eventsOn } from "../dose/daybook.js";
import { isMoreThan } from "./way.js";

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
 * Return what is written of an outing. More minutes or strokes than the step allows are more than was asked, whatever was chosen.
 * @param {Noted|null} noted whose step stays
 * @param {{ladder: import("../../wire.js").WayLadder, standing: import("./way.js").Standing}} way
 * @param {Answers} answers
 * @returns {Body}
 */
export function bodyOf(noted, { ladder, standing }, { minutes, arms, amount, strokes }) {
  const { step, up } = noted?.body ?? { step: standing.step, up: standing.isFirstOfStep };
  const felt = Object.fromEntries(Object.entries(arms).map(([arm, worst]) => [arm, { worst }]));
  const planned = Object.values(arms).every((worst) => worst === null);
  const body = {
    what: /** @type {const} */ ("sport"),
    name: ladder.name.slice(0, 80),
    minutes,
    planned,
    step,
    up,
    arms: felt,
  };
  if (planned) return body;
  const isMore = isMoreThan(ladder.steps[(step ?? 1) - 1], minutes, strokes);
  return { ...body, amount: isMore ? "more" : amount, ...(strokes === null ? {} : { strokes }) };
}
