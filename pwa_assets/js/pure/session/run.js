/**
 * The run: a session as it is stored on the phone, and the log entry that it becomes. Pure.
 *
 * @typedef {import("./timeline.js").Step} Step
 * @typedef {import("./player.js").Session} Session
 * @typedef {{on: string, routineVersion: number, bundleHash: string, steps: Step[],
 *   arms: {arm: string, dose: import("../../wire.js").Dose, sheet: import("./timeline.js").SheetStep[], isFirst?: boolean, isAfterSport?: boolean}[],
 *   repWork: import("./work_done.js").RepWork}} Plan repWork: the work of a rep, from that day's bundle
 * @typedef {{id: string, on: string, plan: Plan, step: number, activeMs: number, workedMs: number, wallAt: number,
 *   begun: number[], done: number[], reps: Record<number, number>, gaps: [number, number][], ended: import("../../wire.js").SessionBody["ended"]|"", why: string,
 *   sharpArm: string, entry?: string, eased?: import("./easing.js").Eased[], ways?: string[], draft: {ratings: Record<string, number>, note: string}}} Run
 *   activeMs: the place on the plan; wallAt: the wall clock when it was stored; entry: the id of its log entry, once it has one
 */

import { newSession } from "./player.js";
import { isWork, stateAt, stepStarts } from "./timeline.js";
import { doseOf, playedSets } from "./work_done.js";

const MOST_NOTE = 280;

/** The run cannot be written: another window has taken or ended it. */
export class TakenError extends Error {}

/**
 * @param {Plan} plan
 * @param {string} id
 * @returns {Run}
 */
export function newRun(plan, id) {
  return {
    id,
    on: plan.on,
    plan,
    step: 0,
    activeMs: 0,
    workedMs: 0,
    wallAt: 0,
    begun: [],
    done: [],
    reps: {},
    gaps: [],
    ended: "",
    why: "",
    sharpArm: "",
    eased: [],
    ways: [],
    draft: { ratings: {}, note: "" },
  };
}

/**
 * Return whether a run must not go on: one of its arms is stopped, the client's start waits, or the practitioner has ended the course.
 * @param {Run} run
 * @param {{days: {arm: string, isHeldNow: boolean}[], start: {waitsFor: string}, course: {to: string}}} today
 * @returns {boolean}
 */
export function isStopped({ plan }, { days, start, course }) {
  const held = days.filter(({ isHeldNow }) => isHeldNow).map(({ arm }) => arm);
  if (start.waitsFor !== "nothing" || course.to === "ended") return true;
  return plan.arms.some(({ arm }) => held.includes(arm));
}

/**
 * @param {Run} run
 * @param {Session} session settled at the instant of writing
 * @param {number} wallAt
 * @returns {Run}
 */
export function runOf(run, session, wallAt) {
  const { atMs, workedMs, begun, done, reps, gaps, ended, why } = session;
  const { step } = stateAt(run.plan.steps, atMs);
  return {
    ...run,
    step,
    activeMs: atMs,
    workedMs,
    begun,
    done,
    reps,
    gaps,
    ended,
    why,
    wallAt,
  };
}

/**
 * Return the session that continues a stored run. The time since it was stored is a gap.
 * @param {Run} run
 * @param {"step"|"restart"} how go on within the step, or start the step again
 * @param {number} wallNow
 * @returns {Session} paused
 */
export function sessionOf(run, how, wallNow) {
  const { activeMs, workedMs, begun, done, reps, gaps } = run;
  const away = Math.max(0, Math.round((wallNow - run.wallAt) / 1000));
  const atMs = how === "restart" ? stepStarts(run.plan.steps)[run.step] : activeMs;
  /** @type {[number, number][]} */
  const all = run.wallAt && away ? [...gaps, [Math.round(activeMs / 1000), away]] : gaps;
  return newSession({
    status: "paused",
    atMs,
    workedMs,
    begun,
    done,
    reps,
    gaps: all,
  });
}

/** @param {Run} run @returns {string[]} the arms that did any work, in the plan's order */
export function workedArms(run) {
  return [...new Set(run.begun.flatMap((i) => armsOf(run.plan.steps[i].arm)))];
}

/** @param {string} arm of a step or of a stop: "right", "left", "both", or "" for none @returns {string[]} the single arms */
export const armsOf = (arm) => (arm === "both" ? ["right", "left"] : arm ? [arm] : []);

/** @param {Plan} plan @returns {string[]} the arms of its steps, in its order */
export const plannedArms = ({ steps }) => [...new Set(steps.flatMap(({ arm }) => armsOf(arm)))];

/**
 * Return the arm that works now, or that worked last. Before the first work and between two arms it may be either.
 * @param {Run} run
 * @returns {string} "both" where it may be either, or both work
 */
export function armNow({ plan, step, begun }) {
  const now = plan.steps[step];
  const last = plan.steps[begun.filter((i) => i <= step).at(-1) ?? -1];
  const isSure = isWork(now) || now.arm === last?.arm || plannedArms(plan).length < 2;
  return isSure ? now.arm : "both";
}

/**
 * Return the body of session_finished. It names an arm with sharp pain even if that arm has not worked yet.
 * @param {Run} run
 * @returns {import("../../wire.js").SessionBody}
 */
export function finishedBody(run) {
  const sharp = armsOf(run.sharpArm);
  const arms = [...new Set([...workedArms(run), ...sharp])].map((arm) => {
    const worst = run.draft.ratings[arm] ?? null;
    const dose = doseOf(run, arm);
    return [arm, { worst, sharp: sharp.includes(arm), sets: playedSets(run, arm), ...(dose && { dose }) }];
  });
  return {
    routine: run.plan.routineVersion,
    arms: Object.fromEntries(arms),
    asked_steps: run.plan.steps.filter(isWork).length,
    done_steps: run.done.length,
    active_seconds: Math.round(run.workedMs / 1000),
    ended: run.ended || "stopped",
    why: run.ended ? run.why : "interrupted",
    note: run.draft.note.trim().slice(0, MOST_NOTE),
    gaps: run.gaps,
    eased: run.eased ?? [],
    ways: run.ways ?? [],
  };
}

/**
 * Return the run without its stop for sharp pain, open where it was.
 * @param {Run} run that sharp pain ended, by mistake
 * @returns {Run}
 */
export function withoutStop({ entry: _entry, ...run }) {
  return { ...run, ended: "", why: "", sharpArm: "" };
}

/**
 * Return each working step and its outcome.
 * @param {Run} run
 * @returns {{step: Step, outcome: "done"|"part"|"left"}[]}
 */
export function accountOf(run) {
  return run.plan.steps.flatMap((step, i) => {
    if (!isWork(step)) return [];
    return [
      {
        step,
        outcome: run.done.includes(i) ? "done" : run.begun.includes(i) ? "part" : "left",
      },
    ];
  });
}
