/**
 * Which entry stops an arm by itself, whatever the routine; and that no correction of a later day takes a stop away, as on the server
 * (`sync/facts.py`): only a release ends a hold.
 *
 * @typedef {import("./daybook.js").Event} Event
 */

/** At this rating and above a day is sharp, whatever the bundle; the core's own figure. */
export const SHARP_RATING = 8;
/** Milliseconds that a correction of an entry's own day is made before it at most (by a second phone) and after it, as on the server. */
const [CLOCKS_APART, LONGEST_DAY] = [-3_600_000, 129_600_000];

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

/** @param {Event} entry @returns {Record<string, Event>} by arm that it stops by itself, the entry that said so */
export const stopsOf = (entry) => Object.fromEntries(stoppedArms(entry).map((arm) => [arm, entry]));

/**
 * Return the stops of an entry after a correction.
 * @param {Event} fix a correction
 * @param {Event} entry as it was written
 * @param {Record<string, Event>} stops before it, by arm, with what first said so
 * @param {any} body that takes its place; null withdraws it
 * @returns {Record<string, Event>|null} null where it takes a stop away later than on the day on which it was said
 */
export function stopsAfter(fix, entry, stops, body) {
  const after = body === null ? [] : stoppedArms({ ...entry, body });
  const taken = Object.entries(stops).filter(([arm]) => !after.includes(arm));
  const isOfItsDay = taken.every(([, said]) => isOfDay(fix, entry) && isOfDay(fix, said));
  return isOfItsDay ? Object.fromEntries(after.map((arm) => [arm, stops[arm] ?? fix])) : null;
}

/**
 * By the day that a correction names and by its instant: a clock may have been set back meanwhile.
 * @param {Event} fix @param {Event} said
 */
function isOfDay(fix, said) {
  const passed = Date.parse(fix.at) - Date.parse(said.at);
  return fix.on === said.on && !(passed < CLOCKS_APART || passed > LONGEST_DAY);
}
