/**
 * One past day as it was: its morning, its sessions with what they asked, how it was classed by the tables of its time, and what the
 * next session asked. What the log or the tables do not tell is null.
 *
 * @typedef {import("./past_days.js").PastDay} PastDay
 * @typedef {import("../dose/daybook.js").Event} Event
 * @typedef {{isLate: string|null, isCorrected: boolean}} Entered isLate: the day on which it was entered, if that was a later one
 * @typedef {{movement: string, did: number, wanted: number|null}} Row reps of a movement
 * @typedef {{arm: string, worst: number|null, isSharp: boolean, rows: Row[], reps: number, wanted: number|null, loads: number[]}} ArmSession
 *   loads: the weights that were lifted, in kg, each once
 * @typedef {Entered & {at: string, ended: string, note: string, arms: ArmSession[], eased: {lever: string, movement: string}[]}} SessionAccount
 * @typedef {Entered & {at: string, arms: {arm: string, pain: number, isSharp: boolean}[]}} MorningAccount
 */

import { addDays } from "../calendar/local_day.js";
import { countedUnder, NOTHING_YET, responseOf } from "../dose/almanac.js";
import { correctedEntries } from "../dose/corrections.js";
import { factsOf } from "../dose/daybook.js";
import { ofKind } from "./past_days.js";

const MORNINGS = 3;

/**
 * @param {Event[]} events at least all about this day
 * @param {string} on
 * @param {(ms: number) => string} dayOf the day of an instant where the phone is
 * @returns {{mornings: MorningAccount[], sessions: SessionAccount[], loads: string[]}} in the order in which they were made
 */
export function dayAccount(events, on, dayOf) {
  const entries = correctedEntries(events)
    .filter((entry) => entry.on === on)
    .sort((first, second) => Date.parse(first.at) - Date.parse(second.at));
  const fixes = new Set(ofKind(events, "entry_corrected").map(({ body }) => body.replaces));
  /** @param {Event} entry @returns {Entered & {at: string}} */
  const entered = ({ id, at }) => {
    const made = dayOf(Date.parse(at));
    return { at, isLate: made > on ? made : null, isCorrected: fixes.has(id) };
  };
  return {
    mornings: ofKind(entries, "morning_reported").map((entry) => ({
      ...entered(entry),
      arms: Object.entries(entry.body.arms).map(([arm, { pain, sharp = false }]) => ({ arm, pain, isSharp: sharp })),
    })),
    sessions: ofKind(entries, "session_finished").map((entry) => ({
      ...entered(entry),
      ...sessionAccount(entry.body),
    })),
    loads: [...new Set(ofKind(entries, "exposure_noted").map(({ body }) => body.what))],
  };
}

/** @param {import("../../wire.js").SessionBody} body */
function sessionAccount({ arms, ended, note = "", eased = [] }) {
  const levers = new Map(eased.map(({ what: lever, movement = "" }) => [`${lever} ${movement}`, { lever, movement }]));
  return {
    ended,
    note: note.trim(),
    eased: [...levers.values()].filter(({ lever }) => lever !== "form"),
    arms: Object.entries(arms).map(([arm, own]) => armSession(arm, own)),
  };
}

/** @param {string} arm @param {import("../../wire.js").ArmPlayed} own @returns {ArmSession} */
function armSession(arm, { worst = null, sharp = false, sets, dose }) {
  const rows = sets.map(({ movement, reps }) => ({
    movement,
    did: reps,
    wanted: dose?.sets.find((set) => set.movement === movement)?.reps ?? null,
  }));
  const total = (/** @type {(number|null)[]} */ counts) =>
    counts.reduce((/** @type {number|null} */ all, count) => (all === null || count === null ? null : all + count), 0);
  return {
    arm,
    worst,
    isSharp: sharp,
    rows,
    reps: total(rows.map(({ did }) => did)) ?? 0,
    wanted: total(rows.map(({ wanted }) => wanted)),
    loads: [...new Set(sets.filter(({ reps }) => reps > 0).map(({ load_kg }) => load_kg))],
  };
}

/**
 * @param {Pick<import("../../wire.js").Bundle, "cube"|"almanac">} bundle the one in force on that day
 * @param {Event[]} events at least all about this day, the three before it and the next morning
 * @param {PastDay} day
 * @param {string} arm
 * @returns {string} one of the almanac's responses
 */
export function responseTo(bundle, events, { on, arms }, arm) {
  const facts = factsOf(events, arm);
  const mornings = Array.from({ length: MORNINGS }, (_, back) => facts.get(addDays(on, -back - 1))?.morning ?? null);
  const known = mornings.filter((morning) => morning !== null);
  const { dose } = arms[arm];
  const asking = { mode: dose && dose.sessions === 0 ? "resting" : "training" };
  const own = countedUnder(asking, facts.get(on) ?? NOTHING_YET);
  return responseOf(/** @type {any} */ (bundle), own, known.length ? Math.min(...known) : null);
}

/**
 * @param {PastDay[]} days that follow, in their order
 * @param {string} arm
 * @returns {{on: string, dose: import("../../wire.js").ArmDose}|null} the next session that tells what it asked
 */
export function nextAsked(days, arm) {
  const next = days.find((day) => day.arms[arm].dose);
  const dose = next?.arms[arm].dose;
  return next && dose ? { on: next.on, dose } : null;
}

/**
 * Which routine was in force on a day.
 * @param {Event[]} events all receipts among them
 * @param {string} on
 * @returns {{version: number, bundle: string}|null} bundle: the hash of its tables, empty where the receipt does not tell it
 */
export function routineOn(events, on) {
  const received = ofKind(correctedEntries(events), "routine_received").filter((entry) => entry.on <= on);
  const newest = Math.max(...received.map(({ body }) => body.version));
  const own = received.filter(({ body }) => body.version === newest);
  return own.length ? { version: newest, bundle: own.find(({ body }) => body.bundle)?.body.bundle ?? "" } : null;
}
