/**
 * The times of all tones and announcements of a cue sheet, computed ahead. Pure.
 *
 * @typedef {import("./timeline.js").Step} Step
 * @typedef {"step"|"up"|"down"|"half"|"tick"|"arm"|"end"} Tone
 * @typedef {{atMs: number, tone: Tone, step: number}} Cue
 * @typedef {"step"|"first"|"half"|"ten"|"count"|"done"|"over"} AnnouncementKind over: the session is over, but not all of it is done
 * @typedef {{atMs: number, kind: AnnouncementKind, step: number, rep?: number}} Announcement
 */

import { repTimes, stepStarts } from "./timeline.js";

const LAST_SECONDS = [3, 2, 1];
const HALF_FROM_SECONDS = 20;
const TEN_FROM_SECONDS = 15;
const STALE_MS = 1500;
const STALE_TOUCH_MS = 250;
const REPS_COUNTED = 3;
/** Time to say the number of a rep. */
const NUMBER_MS = 1500;

/**
 * @param {Step[]} steps
 * @returns {Cue[]} in order of time
 */
export function cueTimes(steps) {
  const starts = stepStarts(steps);
  const cues = steps.flatMap((step, i) =>
    cuesOf(step, i).map(({ atMs, tone }) => ({
      atMs: starts[i] + atMs,
      tone,
      step: i,
    })),
  );
  const end = /** @type {Cue} */ ({
    atMs: starts[steps.length],
    tone: "end",
    step: steps.length - 1,
  });
  return [...cues, end].sort((a, b) => a.atMs - b.atMs);
}

/** @param {Step} step @param {number} index @returns {{atMs: number, tone: Tone}[]} from the step's own start */
function cuesOf(step, index) {
  if (step.kind === "done") return [];
  const opening = /** @type {Tone} */ (step.kind === "change_arm" ? "arm" : "step");
  const first = index === 0 ? [] : [{ atMs: 0, tone: opening }];
  return [...first, ...(step.reps ? turns(step) : [...halves(step), ...lastSeconds(step)])];
}

/** @param {Step} step @returns {{atMs: number, tone: Tone}[]} the two turns of each rep; the step's own tone replaces the first 'up' */
function turns(step) {
  const { repMs, upMs } = repTimes(step);
  return Array.from({ length: step.reps }, (_, i) => i).flatMap((i) => [
    ...(i ? [{ atMs: i * repMs, tone: /** @type {Tone} */ ("up") }] : []),
    { atMs: i * repMs + upMs, tone: /** @type {Tone} */ ("down") },
  ]);
}

/** @param {Step} step @returns {{atMs: number, tone: Tone}[]} the middle of a long wait or hold */
function halves({ seconds }) {
  return seconds > HALF_FROM_SECONDS ? [{ atMs: seconds * 500, tone: "half" }] : [];
}

/** @param {Step} step @returns {{atMs: number, tone: Tone}[]} */
function lastSeconds({ seconds }) {
  return LAST_SECONDS.filter((left) => left < seconds).map((left) => ({
    atMs: (seconds - left) * 1000,
    tone: "tick",
  }));
}

/**
 * Return what is announced in words: each step, the half of a long step, ten seconds before its end, the numbers of the last reps,
 * and the end. Once for each arm, in its first set: what a first discomfort means.
 * @param {Step[]} steps
 * @returns {Announcement[]} in order of time
 */
export function announcementTimes(steps) {
  const starts = stepStarts(steps);
  const opening = openingSets(steps);
  const announcements = steps.flatMap((step, i) => {
    if (step.kind === "done") return [];
    const timed = step.reps ? 0 : step.seconds;
    const { repMs } = repTimes(step);
    const counted = Array.from({ length: step.reps }, (_, rep) => rep + 1)
      .slice(1)
      .slice(-REPS_COUNTED);
    const secondMs = counted[0] === 2 ? repMs + NUMBER_MS : repMs;
    return /** @type {Announcement[]} */ ([
      { atMs: starts[i], kind: "step", step: i },
      ...(opening.has(i) ? [{ atMs: starts[i] + secondMs, kind: "first", step: i }] : []),
      ...counted.map((rep) => ({ atMs: starts[i] + (rep - 1) * repMs, kind: "count", step: i, rep })),
      ...(step.reps ? [] : halves(step)).map(({ atMs }) => ({ atMs: starts[i] + atMs, kind: "half", step: i })),
      ...(timed >= TEN_FROM_SECONDS ? [{ atMs: starts[i + 1] - 10000, kind: "ten", step: i }] : []),
    ]);
  });
  /** @type {Announcement} */
  const done = { atMs: starts[steps.length], kind: "done", step: steps.length - 1 };
  return [...announcements, done].sort((a, b) => a.atMs - b.atMs);
}

/** @param {Step[]} steps @returns {Set<number>} the indices of each arm's first set of more than one rep */
function openingSets(steps) {
  const sets = steps.flatMap(({ kind, reps, arm }, i) => (kind === "reps" && reps > 1 ? [{ i, arm }] : []));
  return new Set(sets.filter(({ arm }, at) => sets.findIndex((set) => set.arm === arm) === at).map(({ i }) => i));
}

/**
 * Return the announcements that became due between two looks. A step and the end are announced when they are shown; what is late
 * is dropped.
 * @param {Announcement[]} announcements
 * @param {number} from milliseconds, announced up to here
 * @param {number} to
 * @returns {Announcement[]}
 */
export function announcementsDue(announcements, from, to) {
  return announcements.filter(
    ({ kind, atMs }) => kind !== "step" && kind !== "done" && from < atMs && atMs <= to && to - atMs < STALE_MS,
  );
}

/**
 * Return the tones that sounded between two looks, for vibration; what is late is dropped.
 * @param {Cue[]} cues
 * @param {number} from milliseconds
 * @param {number} to
 * @returns {Tone[]}
 */
export function tonesDue(cues, from, to) {
  const due = cues.filter(({ atMs }) => from < atMs && atMs <= to && to - atMs < STALE_TOUCH_MS);
  return due.map(({ tone }) => tone);
}
