/**
 * Days and times in words, by Intl. The days that come soon are kept as they are written.
 */

import { addDays } from "../../pure/calendar/local_day.js";

const WRITTEN_DAYS = "halfturn-written-days";
/** Whoever opens the app once in this time finds its day written. */
const DAYS_WRITTEN = 60;
/** The page also names days that are over: when something last changed. */
const DAYS_BACK = 30;
/** The digits that the server writes in every language. @type {{numberingSystem: "latn"}} */
export const DIGITS = { numberingSystem: "latn" };

/**
 * A formatter takes long to make, and the first page needs few of them: make each one when it is first used.
 * @template T
 * @param {() => T} make
 * @returns {() => T}
 */
export function once(make) {
  /** @type {T|undefined} */
  let made;
  return () => {
    made ??= make();
    return made;
  };
}

/**
 * The tag for days and times: they are written as where the reader lives, if the reader's browser names a place with the
 * same language (en-GB for en). All else goes by the shell's own tag: Portuguese has other plural forms in Brazil.
 * @param {string} shell
 * @param {readonly string[]} preferred
 */
function variantOf(shell, preferred) {
  return preferred.find((tag) => tag.split("-")[0] === shell.split("-")[0]) ?? shell;
}

/** @param {string} shell the tag of the app's language @param {readonly string[]} preferred the browser's languages */
export function calendar(shell, preferred) {
  const locale = variantOf(shell, preferred);
  const written = writtenDays(locale);
  /** @param {Intl.DateTimeFormatOptions} options */
  const days = (options) => {
    const format = once(() => new Intl.DateTimeFormat(locale, { ...DIGITS, ...options, timeZone: "UTC" }));
    return (/** @type {string} */ on) => format().format(noonOf(on));
  };
  const instants = once(() => new Intl.DateTimeFormat(locale, { ...DIGITS, dateStyle: "medium", timeStyle: "short" }));
  const times = once(() => new Intl.DateTimeFormat(locale, { ...DIGITS, timeStyle: "short" }));
  const [weekday, date] = [days({ weekday: "long" }), days({ day: "numeric", month: "long" })];
  const day = days({ weekday: "long", day: "numeric", month: "long" });
  const time = (/** @type {number} */ ms) => times().format(ms);
  return {
    day: (/** @type {string} */ on) => written.of(on)?.[2] ?? day(on),
    weekday: (/** @type {string} */ on) => written.of(on)?.[0] ?? weekday(on),
    date: (/** @type {string} */ on) => written.of(on)?.[1] ?? date(on),
    instant: (/** @type {number} */ ms) => instants().format(ms),
    time: (/** @type {number} */ ms) => written.time(ms) ?? time(ms),
    prepareDays: (/** @type {string} */ today) => written.keep(today, (on) => [weekday(on), date(on), day(on)], time),
  };
}

/** @param {string} on */
const noonOf = (on) => new Date(`${on}T12:00:00Z`);

/** A minute whose figures stand for nothing else in a time. */
const MINUTE = 59;

/**
 * Times as they are written: one for each hour of the day, in which the minutes are two figures of their own in every language.
 * @param {(ms: number) => string} time
 */
const hoursOf = (time) =>
  Array.from({ length: 24 }, (_, hour) =>
    time(new Date(2026, 0, 1, hour, MINUTE).getTime()).replace(`${MINUTE}`, "{m}"),
  );

/**
 * The days about today and the hours as they are written, kept for the next opening of the app: the first use of a date's formatter
 * takes a slow phone a fifth of a second. They are words only; where they are missing, the formatter writes them.
 * @param {string} locale
 */
function writtenDays(locale) {
  /** @type {() => {days?: Record<string, string[]>, hours?: string[]}} */
  const kept = once(() => {
    try {
      const found = JSON.parse(localStorage.getItem(WRITTEN_DAYS) ?? "{}");
      return found.of === locale ? found : {};
    } catch {
      // Without this storage, or with other things in it, each day is written when it is asked for.
      return {};
    }
  });
  return {
    /** @param {string} on @returns {string[]|undefined} */
    of: (on) => kept().days?.[on],
    /** @param {number} ms @returns {string|undefined} */
    time(ms) {
      const at = new Date(ms);
      return kept().hours?.[at.getHours()]?.replace("{m}", String(at.getMinutes()).padStart(2, "0"));
    },
    /** @param {string} today @param {(on: string) => string[]} write @param {(ms: number) => string} time */
    keep(today, write, time) {
      if (kept().days?.[addDays(today, DAYS_WRITTEN / 2)]) return;
      const near = Array.from({ length: DAYS_WRITTEN + DAYS_BACK }, (_, at) => addDays(today, at - DAYS_BACK));
      const days = Object.fromEntries(near.map((on) => [on, write(on)]));
      try {
        localStorage.setItem(WRITTEN_DAYS, JSON.stringify({ of: locale, days, hours: hoursOf(time) }));
      } catch {
        // A full or forbidden storage costs time at the next start, and nothing else.
      }
    },
  };
}
