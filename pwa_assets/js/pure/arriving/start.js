/**
 * What the first session still waits for, from the log; it mirrors the server's `sync/screening.py`. Pure.
 *
 * @typedef {{waitsFor: "screening"|"intake"|"practitioner"|"nothing", next: string, waiting: string[]}} Start
 *   next: the level of warning signs that is asked next, "" where all were asked; waiting: the signs, by id, that the
 *   practitioner must clear before the start
 */

import { eventsOn } from "../dose/daybook.js";

/** The most urgent first, as they are asked. */
export const LEVELS = ["emergency", "same_day", "soon", "ask_first"];

/**
 * @param {import("../../wire.js").Bundle|null} bundle
 * @param {import("../dose/daybook.js").Event[]} events
 * @param {import("../../wire.js").Start|undefined} served what the server's last reply said; undefined before the first one
 * @returns {Start}
 */
export function startOf(bundle, events, served) {
  const answers = eventsOn(events, "screening_answered", null).map(({ body }) => body);
  const cleared = eventsOn(events, "screening_cleared", null).flatMap(({ body }) => body.signs);
  const ticked = new Set(answers.flatMap(({ signs }) => signs));
  const waiting = [...ticked].filter((sign) => !cleared.includes(sign) && !isHeld(bundle, sign));
  const next = LEVELS[1 + Math.max(-1, ...answers.map(({ reached }) => LEVELS.indexOf(reached)))] ?? "";
  const hasTrained = events.some(({ kind }) => kind === "session_finished");
  if (next && !hasTrained) return { waitsFor: served?.waits_for ?? "nothing", next, waiting };
  // The routine comes only after the practitioner has confirmed the intake.
  const isAsked = !bundle && served?.asks_intake === true;
  const isTold = eventsOn(events, "intake_told", null).length > 0;
  const waitsFor = isAsked && !isTold ? "intake" : isAsked || waiting.length ? "practitioner" : "nothing";
  return { waitsFor, next, waiting };
}

/**
 * Before the first routine no arm has a hold of its own; a sign that stops stands in the log alone.
 * @param {{bundle: import("../../wire.js").Bundle|null, events: import("../dose/daybook.js").Event[], days: {isHeldNow: boolean}[]}} snapshot
 * @returns {boolean} whether an arm is stopped now
 */
export const isAnyStopped = ({ bundle, events, days }) =>
  bundle
    ? days.some(({ isHeldNow }) => isHeldNow)
    : eventsOn(events, "warning_raised", null).some(({ body }) => body.holds ?? true);

/** @param {import("../../wire.js").Bundle|null} bundle @param {string} sign @returns {boolean} whether it holds an arm by itself */
const isHeld = (bundle, sign) => Boolean(bundle?.warnings.some(({ id, holds }) => id === sign && holds));
