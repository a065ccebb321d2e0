/**
 * The course that the practice has set: training, maintenance on some days of a week, a rest until a day, or ended; it mirrors the server's
 * `events/course_set.py`. It never changes a dose.
 *
 * @typedef {{to: "training"|"maintenance"|"rest"|"ended", daysAWeek: number, since: string|null, reason: string, by: string, seenAgainOn: string|null, until: string|null}} SetCourse
 *   daysAWeek: of seven days in a row, on so many a session is asked for; 0 but in maintenance; since: null where nothing was set; seenAgainOn: null where no day was named;
 *   until: the day on which a rest is over, null but in a rest
 * @typedef {SetCourse & {done: number, doneNow: number, isFree: boolean, next: string, isMorningAsked: boolean}} CourseToday done: days with a
 *   session among the six before today; doneNow: the same, and today; isFree: a day on which maintenance asks for nothing, and nothing is done yet;
 *   next: the next day on which it asks, today or later; isMorningAsked: false where today needs no report
 */

import { addDays } from "../calendar/local_day.js";
import { eventsOn, factsOf } from "./daybook.js";

/** Today, and the six days before it. */
export const DAYS_COUNTED = 7;

/** @type {SetCourse} */
const TRAINING = {
  to: "training",
  daysAWeek: 0,
  since: null,
  reason: "",
  by: "",
  seenAgainOn: null,
  until: null,
};

/**
 * Return the course in force on a day: the last that has begun by then, by its day and then by the log's number. Once a rest is over,
 * the course that was in force beside it goes on from that day, with the reason of the rest.
 * @param {import("./daybook.js").Event[]} events
 * @param {string} day
 * @returns {SetCourse}
 */
export function courseOn(events, day) {
  const found = eventsOn(events, "course_set", null).filter(({ on }) => on <= day);
  const begun = found.sort((first, second) => compare(first.on, second.on) || first.seq - second.seq).map(setBy);
  const last = begun.at(-1) ?? TRAINING;
  if (last.until === null || last.until > day) return last;
  const beside = begun.filter(({ to }) => to !== "rest").at(-1) ?? TRAINING;
  return { ...beside, since: last.until, reason: last.reason, by: last.by };
}

/** @param {{on: string, body: Record<string, any>}} event @returns {SetCourse} */
function setBy({ on, body }) {
  const { to, days_a_week: days, reason, by, seen_again_on: seenAgainOn = null } = body;
  const daysAWeek = to === "maintenance" ? days : 0;
  return { to, daysAWeek, since: on, reason, by, seenAgainOn, until: to === "rest" ? body.until : null };
}

/**
 * @param {readonly string[]} arms
 * @param {import("./daybook.js").Event[]} events
 * @returns {Set<string>} the days with a session of any arm
 */
export function trainedDays(arms, events) {
  const days = arms.flatMap((arm) => [...factsOf(events, arm)].filter(([, { sessions }]) => sessions > 0));
  return new Set(days.map(([on]) => on));
}

/** @param {Set<string>} trained @param {string} day @returns {number} days with a session among the six before a day */
export function daysDone(trained, day) {
  return Array.from({ length: DAYS_COUNTED - 1 }, (_, at) => addDays(day, -at - 1)).filter((on) => trained.has(on))
    .length;
}

/**
 * @param {Set<string>} trained
 * @param {string} day
 * @param {number} daysAWeek
 * @returns {string} the first day from `day` on that asks for a session, where no other is done meanwhile
 */
export function nextAsked(trained, day, daysAWeek) {
  const known = new Set([...trained].filter((on) => on < day));
  let next = day;
  while (daysDone(known, next) >= daysAWeek) next = addDays(next, 1);
  return next;
}

/**
 * What the course says of today. A hold or a rest stands above it: then today is as in training.
 * @param {import("../../wire.js").Bundle|null} bundle
 * @param {import("./daybook.js").Event[]} events
 * @param {string} today
 * @param {readonly {isHeldNow: boolean, dose: {mode: string}}[]} days of the arms
 * @returns {CourseToday}
 */
export function courseToday(bundle, events, today, days) {
  const course = courseOn(events, today);
  const plain = {
    ...course,
    done: 0,
    doneNow: 0,
    isFree: false,
    next: today,
    isMorningAsked: true,
  };
  if (course.to === "training" || !bundle) return plain;
  const trained = trainedDays(bundle.arms, events);
  const isResting = days.some(({ isHeldNow, dose }) => !isHeldNow && dose.mode === "resting");
  const isMorningAsked = isResting || trained.has(addDays(today, -1));
  const done = daysDone(trained, today);
  const doneNow = done + Number(trained.has(today));
  if (course.to === "rest") return { ...plain, done, doneNow };
  if (course.to === "ended") return { ...plain, done, doneNow, isMorningAsked };
  const isFree = !isResting && !trained.has(today) && done >= course.daysAWeek;
  const next = nextAsked(trained, trained.has(today) ? addDays(today, 1) : today, course.daysAWeek);
  return { ...plain, done, doneNow, isFree, next, isMorningAsked };
}

/** @param {string} first @param {string} second */
function compare(first, second) {
  return first < second ? -1 : first > second ? 1 : 0;
}
