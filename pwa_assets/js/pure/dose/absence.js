/**
 * Days of which the log says nothing: earlier mornings that may still be told, and a stretch of days without a word. Only counting; how
 * many days matter comes with the bundle.
 *
 * @typedef {import("./daybook.js").Event} Event
 * @typedef {{on: string, pains: Record<string, number>, isWhole: boolean}} Morning pains: by arm, what was told; isWhole: every arm was told
 * @typedef {{first: string, last: string, days: number, isLong: boolean}} Absence first, last: days, both without a word
 */

import { addDays, daysBetween } from "../calendar/local_day.js";
import { NOTHING_YET, responseOf } from "./almanac.js";
import { correctedEntries } from "./corrections.js";
import { eventsOn, firstDay } from "./daybook.js";
import { courseOn, trainedDays } from "./set_course.js";

/** Entries that show that the client was there. */
const WORDS = ["session_finished", "morning_reported", "warning_raised"];

/**
 * Return the earlier mornings that may be told or corrected, the latest first; but in training, only after a day with a session. Only those that the phone can decide by itself: none
 * before the anchors. Nobody misses a morning of the first day.
 * @param {import("../../wire.js").Bundle|null} bundle
 * @param {Record<string, import("./course.js").Anchor>} anchors
 * @param {Event[]} events
 * @param {string} today
 * @returns {Morning[]}
 */
export function earlierMornings(bundle, anchors, events, today) {
  const first = firstDay(events);
  if (!bundle?.asks || !first) return [];
  const from = [addDays(today, -bundle.asks.late), first, ...Object.values(anchors).map(({ on }) => on)].sort().at(-1);
  const days = Array.from({ length: bundle.asks.late }, (_, back) => addDays(today, -back - 1));
  const found = days.filter((on) => on >= (from ?? today)).map((on) => morningOn(bundle.arms, events, on));
  const mornings = found.filter(({ on, pains }) => on > first || Object.keys(pains).length > 0);
  if (courseOn(events, today).to === "training") return mornings;
  const trained = trainedDays(bundle.arms, events);
  return mornings.filter(({ on, pains }) => trained.has(addDays(on, -1)) || Object.keys(pains).length > 0);
}

/** @param {readonly string[]} arms @param {Event[]} events @param {string} on @returns {Morning} */
function morningOn(arms, events, on) {
  const reports = eventsOn(events, "morning_reported", on).flatMap(({ body }) => Object.entries(body.arms));
  /** @type {Record<string, number>} */
  const pains = {};
  for (const [arm, { pain }] of reports) pains[arm] = Math.max(pain, pains[arm] ?? 0);
  return { on, pains, isWhole: arms.every((arm) => arm in pains) };
}

/**
 * Return what was told of an earlier morning and must stay as it is: answers that stop an arm by themselves, and those of an arm that
 * is held now. Only a release ends a hold, never a correction.
 * @param {import("../../wire.js").Bundle} bundle
 * @param {Event[]} events
 * @param {string} on
 * @param {{arm: string, isHeldNow: boolean}[]} days
 * @returns {import("../../wire.js").MorningBody["arms"]}
 */
export function answersThatStay(bundle, events, on, days) {
  const held = days.filter(({ isHeldNow }) => isHeldNow).map(({ arm }) => arm);
  /** @type {import("../../wire.js").MorningBody["arms"]} */
  const worst = {};
  for (const [arm, answer] of eventsOn(events, "morning_reported", on).flatMap(({ body }) =>
    Object.entries(body.arms),
  )) {
    const before = worst[arm] ?? answer;
    const sharp = before.sharp || answer.sharp;
    const besides = before.besides ? { besides: true } : {};
    worst[arm] = { ...before, ...answer, pain: Math.max(before.pain, answer.pain), sharp, ...besides };
  }
  const stops = (/** @type {{pain: number, sharp?: boolean}} */ { pain, sharp = false }) =>
    responseOf(bundle, { ...NOTHING_YET, morning: pain, sharp }, null) === "sharp";
  return Object.fromEntries(Object.entries(worst).filter(([arm, answer]) => held.includes(arm) || stops(answer)));
}

/**
 * Return the stretch of days before today of which this log has no word. Days before the course in force are left out; a rest and an ended
 * course ask for no day, and maintenance leaves some free, so that only a long stretch is one.
 * @param {import("../../wire.js").Bundle|null} bundle
 * @param {Event[]} events
 * @param {string} today
 * @returns {Absence|null} null where it is too short to ask about, or told of already
 */
export function absenceOf(bundle, events, today) {
  const began = firstDay(events);
  const { to, since } = courseOn(events, today);
  if (!bundle?.asks || !began || to === "ended" || to === "rest") return null;
  const entries = correctedEntries(events);
  const days = entries.filter(({ kind, on }) => WORDS.includes(kind) && on < today).map(({ on }) => on);
  const heard = [began, ...(since ? [addDays(since, -1)] : []), ...days].sort().at(-1) ?? began;
  const [first, last] = [addDays(heard, 1), addDays(today, -1)];
  const count = daysBetween(first, last) + 1;
  const isTold = eventsOn(events, "away_noted", null).some(({ body }) => body.first <= first && body.last >= last);
  const least = to === "maintenance" ? bundle.asks.long_away : bundle.asks.away;
  if (count < least || isTold) return null;
  return { first, last, days: count, isLong: count >= bundle.asks.long_away };
}
