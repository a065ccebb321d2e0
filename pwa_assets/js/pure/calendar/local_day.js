/**
 * Days as text, 'YYYY-MM-DD'. This module reads no clock and knows no time zone.
 * A client's day starts at three in the morning: one o'clock at night still belongs to the day before.
 */

export const DAY_STARTS_AT_HOUR = 3;
export const MINUTES_A_DAY = 1440;

/**
 * Count the days from 1970-01-01 to a day.
 * @param {string} day 'YYYY-MM-DD'
 * @returns {number}
 */
export function dayNumber(day) {
  const [year, month, date] = day.split("-").map(Number);
  const y = month <= 2 ? year - 1 : year;
  const era = Math.floor(y / 400);
  const yearOfEra = y - era * 400;
  const dayOfYear = Math.floor((153 * (month + (month > 2 ? -3 : 9)) + 2) / 5) + date - 1;
  const leaps = Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100);
  return era * 146097 + yearOfEra * 365 + leaps + dayOfYear - 719468;
}

/**
 * Return the day that is a number of days after 1970-01-01.
 * @param {number} number
 * @returns {string} 'YYYY-MM-DD'
 */
export function dayOfNumber(number) {
  const shifted = number + 719468;
  const era = Math.floor(shifted / 146097);
  const n = shifted - era * 146097;
  const yearOfEra = Math.floor((n - Math.floor(n / 1460) + Math.floor(n / 36524) - Math.floor(n / 146096)) / 365);
  const dayOfYear = n - (365 * yearOfEra + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100));
  const m = Math.floor((5 * dayOfYear + 2) / 153);
  const month = m < 10 ? m + 3 : m - 9;
  const year = yearOfEra + era * 400 + (month <= 2 ? 1 : 0);
  return [pad(year, 4), pad(month, 2), pad(dayOfYear - Math.floor((153 * m + 2) / 5) + 1, 2)].join("-");
}

/**
 * Return the client's day at an instant.
 * @param {number} ms milliseconds since the epoch
 * @param {number} offsetMinutes minutes by which UTC is ahead of local time (as getTimezoneOffset)
 * @returns {string} 'YYYY-MM-DD'
 */
export function dayAt(ms, offsetMinutes) {
  const wallMinutes = Math.floor(ms / 60000) - offsetMinutes - DAY_STARTS_AT_HOUR * 60;
  return dayOfNumber(Math.floor(wallMinutes / MINUTES_A_DAY));
}

/**
 * Return the time of an instant as hours from the midnight with which a day begins; the night after it has hours over 24.
 * @param {string} day 'YYYY-MM-DD'
 * @param {number} ms milliseconds since the epoch
 * @param {number} offsetMinutes as in `dayAt`
 * @returns {number}
 */
export function hourOn(day, ms, offsetMinutes) {
  return ms / 3_600_000 - offsetMinutes / 60 - dayNumber(day) * 24;
}

/**
 * @param {string} day
 * @param {number} count days forward; negative: back
 * @returns {string}
 */
export function addDays(day, count) {
  return dayOfNumber(dayNumber(day) + count);
}

/**
 * @param {string} from
 * @param {string} to
 * @returns {number} whole days; negative where `to` is earlier
 */
export function daysBetween(from, to) {
  return dayNumber(to) - dayNumber(from);
}

/**
 * @param {number} value
 * @param {number} width
 */
function pad(value, width) {
  return String(value).padStart(width, "0");
}
