/**
 * The ways to do a session, and the steps that follow from them. Pure. Every count, load and range comes from the bundle's tables.
 *
 * @typedef {import("./timeline.js").Step} Step
 * @typedef {import("./timeline.js").SheetStep} SheetStep
 * @typedef {import("./run.js").Plan} Plan
 * @typedef {{arms: "turns"|"both"|"right"|"left", part: "whole"|"short"|"before_sport", pace: "timed"|"own",
 *   speaker: "voice"|"reader"|"tones"|"nothing", voiceVolume: number, toneVolume: number, keepsMusic: boolean, vibrates: boolean,
 *   hand: "right"|"left", timing: Record<string, number>, on: string}} Ways timing: seconds, by the names of the bundle's `timing`;
 *   on: the day of the choice; empty once a session has begun with them
 */

import { joinSheets } from "../dose/today.js";

/** @type {Ways} */
export const PLAIN = {
  arms: "turns",
  part: "whole",
  pace: "timed",
  speaker: "voice",
  voiceVolume: 1,
  toneVolume: 0.7,
  keepsMusic: false,
  vibrates: true,
  hand: "right",
  timing: {},
  on: "",
};

/**
 * Return the stored ways. `arms` and `part` are chosen for one session: they count until it begins, at most until the day is over.
 * @param {Partial<Ways>|undefined} kept
 * @param {string} today
 * @param {Record<string, boolean>} offered as `offeredBy` has it
 * @returns {Ways}
 */
export function waysFrom(kept, today, offered) {
  const ways = { ...PLAIN, ...kept };
  const holds = (/** @type {string} */ way) => ways.on === today && offered[way] !== false;
  const [arms, part] = [holds(ways.arms) ? ways.arms : PLAIN.arms, holds(ways.part) ? ways.part : PLAIN.part];
  return { ...ways, arms, part };
}

/**
 * Return what may be chosen today.
 * @param {import("../../wire.js").Bundle} bundle
 * @param {Plan} plan
 * @returns {Record<string, boolean>} by choice; a choice that is always possible is left out
 */
export function offeredBy(bundle, { arms }) {
  const [first, second] = arms;
  const isCounted = Boolean(bundle.counts) && arms.every(({ dose }) => dose.sport);
  return {
    short: isCounted,
    before_sport: isCounted && arms.every(({ isFirst }) => isFirst),
    turns: Boolean(second),
    both: first.dose.sheet === second?.dose.sheet && first.isAfterSport === second?.isAfterSport,
    right: Boolean(second),
    left: Boolean(second),
  };
}

/**
 * @param {import("../../wire.js").Bundle} bundle
 * @param {Plan} plan as the day offers it
 * @param {Ways} ways
 * @returns {Plan} with isChanged set on each step whose words no longer fit
 */
export function shaped(bundle, plan, ways) {
  const only = plan.arms.filter(({ arm }) => arm === ways.arms);
  const chosen = only.length ? only : plan.arms;
  const sheets = chosen.map((arm) => ({ ...arm, sheet: sheetFor(bundle, arm, ways) }));
  const steps = ways.arms === "both" ? joinBoth(bundle, sheets) : joinSheets(bundle, sheets);
  return { ...plan, steps: steps.map((step) => timed(step, bundle.timing ?? {}, ways)) };
}

/**
 * Join the steps of two arms that lift together. A stretch needs the other hand, so the arms stretch in turn.
 * @param {import("../../wire.js").Bundle} bundle
 * @param {Plan["arms"]} sheets of two arms with the same steps
 * @returns {Step[]}
 */
function joinBoth(bundle, sheets) {
  const [{ dose, sheet }] = sheets;
  const held = heldIn(dose);
  const isHeld = (/** @type {SheetStep} */ { movement }) => held.has(movement);
  if (!sheet.some(isHeld)) return joinSheets(bundle, [{ arm: "both", sheet }]);
  const lifted = sheet.filter((step) => step.kind !== "done" && !isHeld(step));
  const stretched = sheets.map((arm) => ({ ...arm, sheet: arm.sheet.filter((s) => s.kind === "done" || isHeld(s)) }));
  return [...joinSheets(bundle, [{ arm: "both", sheet: lifted }]), ...joinSheets(bundle, stretched)];
}

/** @param {import("../../wire.js").Dose} dose @returns {Set<string|null|undefined>} the movements that are stretches */
const heldIn = (dose) => new Set(dose.holds.map((hold) => hold.movement));

/** @param {Ways} ways @returns {string[]} the ways that the log entry names */
export function loggedWays({ arms, part, pace }) {
  return [
    ...(part === "whole" ? [] : [part]),
    ...(arms === "both" ? ["both"] : []),
    ...(pace === "own" ? ["own_pace"] : []),
  ];
}

/** @param {import("../../wire.js").Bundle} bundle @param {Plan["arms"][number]} arm @param {Ways} ways @returns {SheetStep[]} */
function sheetFor(bundle, { dose, sheet, isAfterSport }, { part }) {
  const isBefore = part === "before_sport";
  const whole = dose.sets.map((set) => set.reps);
  const counted = (/** @type {number|undefined} */ at) => (at === undefined ? whole : bundle.counts[at]);
  const offered = isAfterSport ? counted(dose.sport?.[1]) : whole;
  const short = part === "short" ? counted(dose.short) : offered;
  const counts = isBefore ? counted(dose.sport?.[0]) : offered.map((reps, set) => Math.min(reps, short[set]));
  const held = heldIn(dose);
  return sheet.flatMap((step) => {
    const index = dose.sets.findIndex((set) => set.movement === step.movement);
    if (index < 0) return isBefore && held.has(step.movement) ? [] : [step];
    const load = isBefore ? { load_kg: 0, load: null } : { load_kg: dose.sets[index].load_kg };
    return counts[index] ? [recounted({ ...step, ...load }, counts[index], isBefore)] : [];
  });
}

/** @param {SheetStep} step @param {number} reps @param {boolean} isChanged @returns {SheetStep} */
function recounted(step, reps, isChanged) {
  if (!step.reps) return { ...step, isChanged };
  const seconds = (step.seconds / step.reps) * reps;
  return { ...step, reps, seconds, isChanged: isChanged || reps !== step.reps };
}

/**
 * Return a step with the client's own times, limited to the bounds of the current bundle.
 * @param {Step} step
 * @param {Record<string, [number, number, number]>} bounds by name: the routine's seconds, the least, the most
 * @param {Ways} ways
 * @returns {Step}
 */
function timed(step, bounds, { timing, pace }) {
  const own = (/** @type {string} */ name, /** @type {number} */ seconds) => {
    if (!bounds[name] || timing[name] === undefined) return seconds;
    const [, least, most] = bounds[name];
    return Math.min(most, Math.max(least, timing[name]));
  };
  const isGated = pace === "own" && step.reps > 0;
  if (step.kind !== "reps") return { ...step, isGated, seconds: own(step.kind, step.seconds) };
  const [up, down] = [own("up", step.up), own("down", step.down)];
  return { ...step, isGated, up, down, seconds: step.reps * (up + down) };
}
