/**
 * The days of the past as the log has them, one after the other. It counts and looks up; it decides nothing. What a past day asked
 * is known from that day's sessions alone.
 *
 * @typedef {import("../dose/daybook.js").Event} Event
 * @typedef {Extract<Event, {kind: "session_finished"}>} Session
 * @typedef {import("../../wire.js").ArmDose} ArmDose
 * @typedef {{morning: number|null, isSharp: boolean, worst: number|null, done: import("../dose/almanac.js").Done, sessions: number,
 *   dose: ArmDose|null, workJ: number|null, workAskedJ: number|null}} ArmPast
 *   morning: the report made on that day; isSharp: an entry of that day stops the arm; sessions: those with a rep; dose: what the day asked, null where no
 *   session of the day tells it; workJ: null without a session, or where the work of a rep is not known
 * @typedef {{on: string, number: number, arms: Record<string, ArmPast>, loads: string[], away: string|null, version: number|null, released: string[],
 *   sessions: Session[]}} PastDay number: 1 for the first day; loads: sport, lifting or desk; away: what kept the client away, as told later; version: a newer one that came; released: the arms that may work again from this day
 */

import { addDays, daysBetween } from "../calendar/local_day.js";
import { NOTHING_YET, responseOf } from "../dose/almanac.js";
import { correctedEntries } from "../dose/corrections.js";
import { eventsOn, factsOf, releasesOf } from "../dose/daybook.js";
import { joulesOf } from "../session/work_done.js";

/**
 * @param {import("../../wire.js").Bundle} bundle in force: its arms are shown, and it knows the work of a rep
 * @param {Event[]} events at least all that are about these days
 * @param {string} first the first day of the whole course
 * @param {string} from
 * @param {string} to
 * @returns {PastDay[]} every day from the one to the other
 */
export function pastDays(bundle, events, first, from, to) {
  const facts = new Map(bundle.arms.map((arm) => [arm, factsOf(events, arm)]));
  const released = bundle.arms.map((arm) => ({ arm, days: releasesOf(bundle, events, arm) }));
  const versions = newVersions(events);
  const absences = ofKind(correctedEntries(events), "away_noted").map(({ body }) => body);
  const byDay = groupedByDay(correctedEntries(events));
  return Array.from({ length: Math.max(0, daysBetween(from, to) + 1) }, (_, i) => {
    const on = addDays(from, i);
    const entries = byDay.get(on) ?? [];
    const sessions = ofKind(entries, "session_finished");
    /** @param {string} arm @returns {[string, ArmPast]} */
    const ofArm = (arm) => [arm, armPast(bundle, entries, arm, facts.get(arm)?.get(on)?.done ?? "none")];
    return {
      on,
      number: daysBetween(first, on) + 1,
      arms: Object.fromEntries(bundle.arms.map(ofArm)),
      loads: [...new Set(ofKind(entries, "exposure_noted").map(({ body }) => body.what))],
      away: absences.find(({ first: began, last }) => began <= on && on <= last)?.what ?? null,
      version: versions.get(on) ?? null,
      released: released.filter(({ days }) => days.has(on)).map(({ arm }) => arm),
      sessions,
    };
  });
}

/** @param {Event[]} events @returns {Map<string, number>} by day; a version that another phone has already is no news */
function newVersions(events) {
  /** @type {Map<string, number>} */
  const days = new Map();
  let newest = 0;
  const byDay = (/** @type {Event} */ first, /** @type {Event} */ second) => (first.on < second.on ? -1 : 1);
  for (const { on, body } of eventsOn(events, "routine_received", null).sort(byDay)) {
    if (body.version > newest) days.set(on, body.version);
    newest = Math.max(newest, body.version);
  }
  return days;
}

/**
 * @template {Event["kind"]} K
 * @param {Event[]} entries after corrections
 * @param {K} kind
 * @returns {Extract<Event, {kind: K}>[]}
 */
export function ofKind(entries, kind) {
  return /** @type {Extract<Event, {kind: K}>[]} */ (entries.filter((entry) => entry.kind === kind));
}

/** @param {Event[]} events @returns {Map<string, Event[]>} */
function groupedByDay(events) {
  /** @type {Map<string, Event[]>} */
  const days = new Map();
  for (const event of events) days.set(event.on, [...(days.get(event.on) ?? []), event]);
  return days;
}

/**
 * @param {import("../../wire.js").Bundle} bundle
 * @param {Event[]} entries of one day, after corrections
 * @param {string} arm
 * @param {import("../dose/almanac.js").Done} done
 * @returns {ArmPast}
 */
function armPast(bundle, entries, arm, done) {
  const mornings = ofKind(entries, "morning_reported").flatMap(({ body }) => body.arms[arm] ?? []);
  const played = ofKind(entries, "session_finished").flatMap(({ body }) => body.arms[arm] ?? []);
  const warned = ofKind(entries, "warning_raised").some(({ body }) => body.holds !== false && body.arms.includes(arm));
  const [morning, worst] = [highest(mornings.map(({ pain }) => pain)), highest(played.map((own) => own.worst ?? null))];
  const sharp = warned || [...mornings, ...played].some((own) => own.sharp);
  const { rep_work: repWork } = bundle;
  const dose = played.find((own) => own.dose)?.dose ?? null;
  const worked = played.filter(({ sets }) => sets.some(({ reps }) => reps > 0));
  return {
    morning,
    isSharp: responseOf(bundle, { ...NOTHING_YET, sharp, during: worst, morning }, null) === "sharp",
    worst,
    done,
    sessions: worked.length,
    dose,
    workJ: worked.length ? sum(worked.flatMap(({ sets }) => sets.map((set) => workOf(repWork, set)))) : null,
    workAskedJ: dose && times(dose.sessions, sum(dose.sets.map((set) => workOf(repWork, set)))),
  };
}

/** @param {(number|null)[]} ratings @returns {number|null} */
function highest(ratings) {
  const known = ratings.filter((rating) => rating !== null);
  return known.length ? Math.max(...known) : null;
}

/** @param {import("../session/work_done.js").RepWork} repWork @param {{movement: string, reps: number, load_kg: number, range: number}} set */
function workOf(repWork, set) {
  if (set.reps === 0) return 0;
  try {
    return set.reps * joulesOf(repWork, set);
  } catch (error) {
    // A weight of an earlier routine, whose work this bundle does not know.
    if (error instanceof RangeError) return null;
    throw error;
  }
}

/** @param {(number|null)[]} parts @returns {number|null} null where a part is not known */
const sum = (parts) =>
  parts.reduce((/** @type {number|null} */ all, part) => (all === null || part === null ? null : all + part), 0);

/** @param {number} count @param {number|null} each */
const times = (count, each) => (each === null ? null : count * each);
