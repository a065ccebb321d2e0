/**
 * The session as it is kept on the phone between one moment and the next, and what goes into the log from it. Pure.
 *
 * @typedef {import("./timeline.js").Step} Step
 * @typedef {import("./player.js").Session} Session
 * @typedef {{on: string, routineVersion: number, bundleHash: string, steps: Step[],
 *   arms: {arm: string, dose: import("../../wire.js").Dose, sheet: import("./timeline.js").SheetStep[], isFirst?: boolean, isAfterSport?: boolean}[],
 *   repWork: import("./work_done.js").RepWork}} Plan repWork: what a rep is worth, by the bundle of that day
 * @typedef {{id: string, on: string, plan: Plan, step: number, activeMs: number, workedMs: number, wallAt: number,
 *   begun: number[], done: number[], reps: Record<number, number>, gaps: [number, number][], ended: import("../../wire.js").SessionBody["ended"]|"", why: string,
 *   sharpArm: string, entry?: string, eased?: import("./easing.js").Eased[], ways?: string[], draft: {ratings: Record<string, number>, note: string}}} Run
 *   activeMs: the place on the whole plan; wallAt: the clock on the wall when it was written; entry: its id in the log, once there
 */

import { newSession } from "./player.js";
import { isWork, stateAt, stepStarts } from "./timeline.js";
import { playedSets } from "./work_done.js";

const MOST_NOTE = 280;

/** A run cannot be written: another window goes on with it, or has ended it. */
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
 * The session that a kept run goes on with; the time since it was written is a gap.
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

/** @param {string} arm of a step or of a stop, "" for none @returns {string[]} "both" at once is two */
export const armsOf = (arm) => (arm === "both" ? ["right", "left"] : arm ? [arm] : []);

/** @param {Plan} plan @returns {string[]} the arms that it asks for, in its order */
export const plannedArms = ({ steps }) => [...new Set(steps.flatMap(({ arm }) => armsOf(arm)))];

/**
 * The arm that is at work, or that last was; before the first and between one arm and the other it may be either.
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
 * The body of session_finished. A sharp arm is named even where it had not begun.
 * @param {Run} run
 * @returns {import("../../wire.js").SessionBody}
 */
export function finishedBody(run) {
  const sharp = armsOf(run.sharpArm);
  const arms = [...new Set([...workedArms(run), ...sharp])].map((arm) => {
    const worst = run.draft.ratings[arm] ?? null;
    return [arm, { worst, sharp: sharp.includes(arm), sets: playedSets(run, arm) }];
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
 * The same run without its stop for sharp pain: open where it was.
 * @param {Run} run that sharp pain ended, by mistake
 * @returns {Run}
 */
export function withoutStop({ entry: _entry, ...run }) {
  return { ...run, ended: "", why: "", sharpArm: "" };
}

/**
 * What was asked and what became of it, one line a working step.
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
