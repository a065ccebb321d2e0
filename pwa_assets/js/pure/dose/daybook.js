/**
 * What the log says of each day; it mirrors the server's daybook. The order of arrival does not matter. A copy counts once, a
 * correction replaces the body of its entry, and an entry whose body does not fit its kind is ignored.
 *
 * @typedef {import("../../wire.js").AnyEntry} Event
 * @typedef {import("./almanac.js").Facts} Facts
 * @typedef {Omit<Facts, "done"> & {warmed: number, shares: Map<string, number>}} Known what the entries of a day say;
 *   shares: for each movement that was asked, the share done of the day's work in it, per mille; sport: on the way back
 */

import { addDays } from "../calendar/local_day.js";
import { fitsKind } from "../sync/entry_check.js";
import { NOTHING_YET, responseOf } from "./almanac.js";
import { correctedEntries } from "./corrections.js";
import { bothSports, isOnTheWay, knownFromSport, nearSport, worse } from "./sport.js";
import { stoppedArms } from "./stops.js";

/** Per mille of a movement's work; four fifths are enough, as on the server. */
const ENOUGH_SHARE = 800;

/** @type {Known} */
const NOTHING_KNOWN = {
  sessions: 0,
  warmed: 0,
  shares: new Map(),
  during: null,
  isUnrated: false,
  morning: null,
  sharp: false,
  sport: null,
};
/**
 * @param {Event[]} events
 * @param {string} arm "right" or "left"
 * @returns {Map<string, Facts>} by day
 */
export function factsOf(events, arm) {
  /** @type {Map<string, Known>} */
  const days = new Map();
  for (const event of correctedEntries(events)) {
    const [on, known] = knownFrom(event, arm);
    if (on) days.set(on, merge(days.get(on) ?? NOTHING_KNOWN, known));
  }
  const near = nearSport(days);
  for (const on of near) if (!days.has(on)) days.set(on, NOTHING_KNOWN);
  return new Map(
    [...days].map(([on, { shares, ...known }]) => {
      return [on, { ...known, done: doneOf(known, shares), isNearSport: near.has(on) }];
    }),
  );
}

/**
 * @param {{sessions: number}} known
 * @param {Map<string, number>} shares
 * @returns {Facts["done"]} how much of the day's asked work was done
 */
function doneOf({ sessions }, shares) {
  if (!sessions) return "none";
  return [...shares.values()].every((share) => share >= ENOUGH_SHARE) ? "enough" : "part";
}

/**
 * Return the releases that count. A release counts if it covers every sharp entry about a day before its own day.
 * @param {import("../../wire.js").Bundle} bundle
 * @param {Event[]} events
 * @param {string} arm
 * @returns {Map<string, import("./almanac.js").Return>} by its day; where a day has several,
 *   the one with the lowest rung, then with the smallest range
 */
export function releasesOf(bundle, events, arm) {
  /** @type {Map<string, import("./almanac.js").Return>} */
  const days = new Map();
  const released = eventsOn(events, "hold_released", null).filter(({ body }) => body.arms[arm]);
  const sharp = released.length > 0 ? sharpEntries(bundle, events, arm) : [];
  for (const { on, body } of released) {
    const { rung, range, covers } = body.arms[arm];
    const isCovering = sharp.every((entry) => entry.on >= on || covers.includes(entry.id));
    const other = days.get(on);
    const isLess = !other || rung < other.rung || (rung === other.rung && range < other.range);
    if (isCovering && isLess) days.set(on, { rung, range });
  }
  return days;
}

/**
 * @param {import("../../wire.js").Bundle} bundle
 * @param {Event[]} events
 * @param {string} arm
 * @returns {{id: string, on: string}[]} every entry that makes its day sharp by itself, and that day
 */
function sharpEntries(bundle, events, arm) {
  return correctedEntries(events).flatMap((event) => {
    const [on, known] = knownFrom(event, arm);
    const isSharp = on && responseOf(bundle, { ...NOTHING_YET, ...known }, null) === "sharp";
    return isSharp ? [{ id: event.id, on }] : [];
  });
}

/**
 * @template {Event["kind"]} K
 * @param {Event[]} events
 * @param {K} kind
 * @param {string|null} on a day; null for all days
 * @returns {Extract<Event, {kind: K}>[]} the entries of this kind after corrections, sorted by id
 */
export function eventsOn(events, kind, on) {
  const found = correctedEntries(events).filter((event) => event.kind === kind && (on === null || event.on === on));
  return /** @type {Extract<Event, {kind: K}>[]} */ (found);
}

/**
 * @param {Event[]} events
 * @returns {string|null} the day on which the first routine was received
 */
export function firstDay(events) {
  const received = events.filter(({ kind, body }) => kind === "routine_received" && fitsKind(kind, body));
  return received.map(({ on }) => on).sort()[0] ?? null;
}

/**
 * @param {{bundle: import("../../wire.js").Bundle, events: Event[]}} log
 * @returns {boolean} whether there is a routine and no session is finished yet
 */
export function isBeforeAll({ bundle, events }) {
  return Boolean(bundle) && !events.some((event) => event.kind === "session_finished");
}

/**
 * Return what one entry says of an arm, and of which day.
 * @param {Event} event after corrections
 * @param {string} arm
 * @returns {[string|null, Partial<Known>]} null where it says nothing of the arm
 */
function knownFrom({ kind, on, body }, arm) {
  if (kind === "warning_raised") return stoppedArms({ kind, body }).includes(arm) ? [on, { sharp: true }] : [null, {}];
  if (kind === "exposure_noted") return isOnTheWay(body, arm) ? [on, knownFromSport(body, arm)] : [null, {}];
  if (kind === "session_finished" && body.arms[arm]) return [on, knownFromSession(body.arms[arm], body.ways ?? [])];
  if (kind === "morning_reported" && body.arms[arm]) {
    const { pain, sharp = false } = body.arms[arm];
    return [addDays(on, -1), { morning: pain, sharp }];
  }
  return [null, {}];
}

/**
 * @param {{worst?: number|null, sharp?: boolean, sets: {movement: string, reps: number, share: number}[]}} own its report
 *   of one arm
 * @param {string[]} ways
 * @returns {Partial<Known>}
 */
function knownFromSession({ worst = null, sharp = false, sets }, ways) {
  const sessions = sets.some(({ reps }) => reps > 0) ? 1 : 0;
  const shares = summed(sets.map(({ movement, reps, share }) => [movement, reps > 0 ? share : 0]));
  const warmed = ways.includes("before_sport") ? sessions : 0;
  return { sessions, warmed, shares, during: worst, isUnrated: sessions > 0 && worst === null, sharp };
}

/**
 * @param {Known} known
 * @param {Partial<Known>} more
 * @returns {Known}
 */
function merge(known, more) {
  return {
    sessions: known.sessions + (more.sessions ?? 0),
    warmed: known.warmed + (more.warmed ?? 0),
    shares: summed([...known.shares, ...(more.shares ?? [])]),
    during: worse(known.during, more.during ?? null),
    isUnrated: known.isUnrated || more.isUnrated === true,
    morning: worse(known.morning, more.morning ?? null),
    sharp: known.sharp || more.sharp === true,
    sport: bothSports(known.sport ?? null, more.sport ?? null),
  };
}

/** @param {[string, number][]} shares by movement; a movement may occur several times @returns {Map<string, number>} */
function summed(shares) {
  const sums = new Map();
  for (const [movement, share] of shares) sums.set(movement, (sums.get(movement) ?? 0) + share);
  return sums;
}
