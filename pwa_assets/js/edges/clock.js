/**
 * The only module that reads a clock. Everything else gets the time as an argument.
 */

import { dayAt, hourOn } from "../pure/calendar/local_day.js";

/**
 * @typedef {{now(): number, mono(): number, today(): string, zone(): string, dayOf(ms: number): string, hourOn(day: string, ms: number): number,
 *   every(ms: number, tick: () => void): () => void, after(ms: number, then: () => void): () => void}} Clock
 * @returns {Clock}
 */
export function createClock() {
  /** @param {number} ms */
  const dayOf = (ms) => dayAt(ms, new Date(ms).getTimezoneOffset());
  return {
    now: () => Date.now(),
    mono: () => performance.now(),
    today: () => dayOf(Date.now()),
    zone: () => Intl.DateTimeFormat().resolvedOptions().timeZone ?? "UTC",
    dayOf,
    hourOn: (day, ms) => hourOn(day, ms, new Date(ms).getTimezoneOffset()),
    every(ms, tick) {
      const handle = setInterval(tick, ms);
      return () => clearInterval(handle);
    },
    after(ms, then) {
      const handle = setTimeout(then, ms);
      return () => clearTimeout(handle);
    },
  };
}
