/**
 * Fills in the text of a calendar file. The text itself, and every rule of the format, comes from the server. Pure.
 *
 * @typedef {"morning"|"session"|"second"} Reminder
 * @typedef {{times: Partial<Record<Reminder, string>>, id: string, sequence: number}} Reminders times: as 07:30; none for no reminder;
 *   id: stays, so that a calendar takes a later file as a change; sequence: one more with each file
 * @typedef {(key: string, gaps: Record<string, string>) => string} Fill
 */

/** @type {Reminder[]} */
export const REMINDERS = ["morning", "session", "second"];
const BREAK = "\r\n";

/**
 * @param {Fill} fill
 * @param {Reminders} reminders
 * @param {string} today
 * @param {string} now an ISO instant in UTC
 * @returns {string} the file, its lines broken as RFC 5545, section 3.1, has it
 */
export function calendarOf(fill, { times, id, sequence }, today, now) {
  const stamp = `${bare(now.slice(0, 19))}Z`;
  const events = REMINDERS.filter((name) => times[name]).map((name) =>
    fill("reminders.event", {
      uid: `${id}-${name}`,
      stamp,
      start: bare(`${today}T${times[name]}:00`),
      sequence: String(sequence),
    }),
  );
  const whole = [fill("reminders.head", {}), ...events, fill("reminders.foot", {})];
  return whole.flatMap((part) => part.split(/\r?\n/)).join(BREAK) + BREAK;
}

/** @param {string} time in ISO's longer form @returns {string} without its signs, as calendars have it */
const bare = (time) => time.replaceAll(/[-:]/g, "");
