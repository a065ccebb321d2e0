/**
 * Days and times in words, by Intl. The days that come soon are kept as they are written.
 */

import { addDays } from "../../pure/calendar/local_day.js";

const WRITTEN_DAYS = "halfturn-written-days";
/** Whoever opens the app once in this time finds its day written. */
const DAYS_WRITTEN = 60;
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
  return {
    day: days({ weekday: "long", day: "numeric", month: "long" }),
    weekday: (/** @type {string} */ on) => written.of(on)?.[0] ?? weekday(on),
    date: (/** @type {string} */ on) => written.of(on)?.[1] ?? date(on),
    instant: (/** @type {number} */ ms) => instants().format(ms),
    time: (/** @type {number} */ ms) => times().format(ms),
    prepareDays: (/** @type {string} */ today) => written.keep(today, (on) => [weekday(on), date(on)]),
  };
}

/** @param {string} on */
const noonOf = (on) => new Date(`${on}T12:00:00Z`);

/**
 * The coming days as they are written, kept for the next opening of the app: the first use of a date's formatter takes a slow
 * phone a fifth of a second. They are words only; where they are missing, the formatter writes them.
 * @param {string} locale
 */
function writtenDays(locale) {
  /** @type {() => Record<string, string[]>} */
  const kept = once(() => {
    try {
      const { of, days } = JSON.parse(localStorage.getItem(WRITTEN_DAYS) ?? "{}");
      return of === locale && days ? days : {};
    } catch {
      // Without this storage, or with other things in it, each day is written when it is asked for.
      return {};
    }
  });
  return {
    of: (/** @type {string} */ on) => kept()[on],
    keep(/** @type {string} */ today, /** @type {(on: string) => string[]} */ write) {
      if (addDays(today, DAYS_WRITTEN / 2) in kept()) return;
      const days = Array.from({ length: DAYS_WRITTEN }, (_, ahead) => addDays(today, ahead));
      try {
        localStorage.setItem(
          WRITTEN_DAYS,
          JSON.stringify({ of: locale, days: Object.fromEntries(days.map((on) => [on, write(on)])) }),
        );
      } catch {
        // A full or forbidden storage costs time at the next start, and nothing else.
      }
    },
  };
}
