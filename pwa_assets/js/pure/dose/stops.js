/**
 * Which entry stops an arm by itself, whatever the routine; and that no correction of a later day takes a stop away, as on the server
 * (`sync/facts.py`): only a release ends a hold.
 *
 * @typedef {import("./daybook.js").Event} Event
 */

/** At this rating and above a day is sharp, whatever the bundle; the core's own figure. */
export const SHARP_RATING = 8;

/**
 * @param {Pick<Event, "kind"|"body">} entry of any kind
 * @returns {string[]} the arms that it stops by itself
 */
export function stoppedArms({ kind, body }) {
  const said = /** @type {any} */ (body);
  if (kind === "warning_raised") return said.holds === false ? [] : said.arms;
  const isOnTheWay = kind === "exposure_noted" && said.what === "sport" && said.step !== undefined;
  if (!isOnTheWay && kind !== "session_finished" && kind !== "morning_reported") return [];
  return Object.keys(said.arms).filter((arm) => isSharp(said.arms[arm]));
}

/** @param {any} own what an entry says of an arm */
export const isSharp = (own) => own?.sharp === true || own?.worst >= SHARP_RATING || own?.pain >= SHARP_RATING;

/**
 * @param {Event} fix a correction
 * @param {Event} entry as it is before it
 * @param {any} body that takes its place; null withdraws it
 * @returns {boolean} whether it is of a later day and would take a stop away from an arm
 */
export function lowersStop(fix, entry, body) {
  if (fix.on <= entry.on) return false;
  const after = body === null ? [] : stoppedArms({ ...entry, body });
  return stoppedArms(entry).some((arm) => !after.includes(arm));
}
