/**
 * The session as a fold over its happenings: start, pause, resume, skip, back, interrupt, end. Pure.
 * Each happening carries its time, in milliseconds of a monotonic clock. The place on the cue sheet moves only while the
 * session runs.
 *
 * @typedef {import("./timeline.js").Step} Step
 * @typedef {{status: "ready"|"running"|"paused"|"ended", atMs: number, since: number, workedMs: number,
 *   begun: number[], done: number[], reps: Record<number, number>, gaps: [number, number][], ended: import("../../wire.js").SessionBody["ended"]|"", why: string}} Session
 *   atMs: the place at the instant `since`; workedMs: time spent playing; begun, done: indices of the working steps;
 *   reps: by step, the whole reps that were played of it; gaps: [second of the session, seconds away]
 * @typedef {{kind: "start"|"resume", mono: number, leadMs?: number}
 *   | {kind: "pause"|"back"|"rep", mono: number}
 *   | {kind: "skip", mono: number, to?: number}
 *   | {kind: "interrupt", mono: number, awaySeconds: number}
 *   | {kind: "end", mono: number, ended: import("../../wire.js").SessionBody["ended"], why: string}} Happening
 */

import { gateAfter, isWork, repsIn, stateAt, stepStarts, totalMs } from "./timeline.js";

export { stateAt, stepStarts, totalMs };

/** Back goes to the previous step if the current step started less than this ago; else to its own start. */
const BACK_WITHIN_MS = 2000;

/**
 * @param {Partial<Session>} [kept] fields of a stored run
 * @returns {Session}
 */
export function newSession(kept = {}) {
  return {
    status: "ready",
    atMs: 0,
    since: 0,
    workedMs: 0,
    begun: [],
    done: [],
    reps: {},
    gaps: [],
    ended: "",
    why: "",
    ...kept,
  };
}

/**
 * @param {Step[]} steps
 * @param {Session} session
 * @param {number} mono now, on the session's clock
 * @returns {number} the place on the cue sheet, in milliseconds
 */
export function placeAt(steps, session, mono) {
  const ran = session.status === "running" ? Math.max(0, mono - session.since) : 0;
  return Math.min(session.atMs + ran, totalMs(steps), gateAfter(steps, session.atMs));
}

/** @param {Step[]} steps @param {Session} session @returns {boolean} whether every working step is done */
export const isWhole = (steps, session) => session.done.length === steps.filter(isWork).length;

/** @param {Session} session @param {number} mono @returns {number} milliseconds until a resumed session moves again */
export function leadLeft(session, mono) {
  return session.status === "running" ? Math.max(0, session.since - mono) : 0;
}

/**
 * @param {Step[]} steps
 * @param {Session} session
 * @param {Happening} happening
 * @returns {Session} a new one; a session that has ended stays as it is
 */
export function happen(steps, session, happening) {
  if (session.status === "ended") return session;
  const now = settle(steps, session, happening.mono);
  switch (happening.kind) {
    case "start":
    case "resume":
      return session.status === "running"
        ? session
        : {
            ...now,
            status: "running",
            since: happening.mono + (happening.leadMs ?? 0),
          };
    case "pause":
      return {
        ...now,
        status: now.status === "running" ? "paused" : now.status,
      };
    case "skip":
      return {
        ...now,
        atMs: stepStarts(steps)[happening.to ?? stateAt(steps, now.atMs).step + 1],
      };
    case "back":
      return { ...now, atMs: backFrom(steps, now.atMs) };
    case "rep":
      return counted(steps, now);
    case "interrupt":
      return interrupted(now, happening.awaySeconds);
    case "end":
      return {
        ...now,
        status: "ended",
        ended: happening.ended,
        why: happening.why,
      };
  }
}

/**
 * Return the session settled at an instant: its place, the time worked, and the steps that were begun and done on the way.
 * @param {Step[]} steps
 * @param {Session} session
 * @param {number} mono
 * @returns {Session}
 */
export function settle(steps, session, mono) {
  if (session.status !== "running") return session;
  const to = placeAt(steps, session, mono);
  const waits = Number.isFinite(gateAfter(steps, session.atMs));
  const worked = waits ? Math.max(0, mono - session.since) : to - session.atMs;
  const starts = stepStarts(steps);
  const passed = steps.flatMap((step, i) =>
    isWork(step) && starts[i] < to && starts[i + 1] > session.atMs ? [i] : [],
  );
  const finished = passed.filter((i) => starts[i + 1] <= to);
  return {
    ...session,
    atMs: to,
    since: Math.max(session.since, mono),
    workedMs: session.workedMs + worked,
    begun: merged(session.begun, passed),
    done: merged(session.done, finished),
    reps: withReps(steps, session, to, passed),
  };
}

/**
 * Add the reps that were finished on the way. A step that is played twice adds both times; an unfinished rep adds nothing.
 * @param {Step[]} steps
 * @param {Session} session
 * @param {number} to the new place, ms
 * @param {number[]} passed the indices of the working steps on the way
 * @returns {Session["reps"]}
 */
function withReps(steps, { reps, atMs }, to, passed) {
  const starts = stepStarts(steps);
  const added = passed.map((i) => {
    const [before, now] = [atMs, to].map((ms) => repsIn(steps[i], ms - starts[i]));
    return [i, (reps[i] ?? 0) + now - before];
  });
  return added.length ? { ...reps, ...Object.fromEntries(added) } : reps;
}

/**
 * Count a rep that the client says is done, however long it took.
 * @param {Step[]} steps
 * @param {Session} session settled
 * @returns {Session}
 */
function counted(steps, session) {
  const { step } = stateAt(steps, session.atMs);
  if (!steps[step].isGated || session.status !== "running") return session;
  const end = stepStarts(steps)[step + 1];
  const atMs = Math.min(Math.ceil(gateAfter(steps, session.atMs) + 1), end);
  const begun = merged(session.begun, [step]);
  const reps = withReps(steps, session, atMs, [step]);
  return { ...session, atMs, begun, done: atMs === end ? merged(session.done, [step]) : session.done, reps };
}

/** @param {Session} session @param {number} awaySeconds @returns {Session} */
function interrupted(session, awaySeconds) {
  if (session.status !== "running") return session;
  return {
    ...session,
    status: "paused",
    gaps: [...session.gaps, [Math.round(session.atMs / 1000), awaySeconds]],
  };
}

/**
 * Set the length of the last gap, once it is final.
 * @param {Session} session
 * @param {number} awaySeconds
 * @returns {Session}
 */
export function withLastGap(session, awaySeconds) {
  const gaps = session.gaps.map((gap, i) => (i === session.gaps.length - 1 ? [gap[0], awaySeconds] : gap));
  return { ...session, gaps: /** @type {[number, number][]} */ (gaps) };
}

/** @param {Step[]} steps @param {number} ms */
function backFrom(steps, ms) {
  const starts = stepStarts(steps);
  const { step, stepMs } = stateAt(steps, ms);
  return starts[stepMs > BACK_WITHIN_MS ? step : Math.max(0, step - 1)];
}

/** @param {number[]} old @param {number[]} added */
const merged = (old, added) => [...new Set([...old, ...added])].sort((a, b) => a - b);
