/**
 * Drives a session: folds its happenings, stores the run, schedules the tones, and tells the view what is due.
 * Timers only trigger another look. What is due follows from the clock alone.
 *
 * @typedef {import("../pure/session/player.js").Session} Session
 * @typedef {import("../pure/session/player.js").Happening} Happening
 * @typedef {import("../pure/session/run.js").Run} Run
 * @typedef {import("../pure/session/timeline.js").Moment} Moment
 * @typedef {import("./cues.js").View} View
 */

import { happen, isWhole, leadLeft, placeAt, settle, stateAt, totalMs, withLastGap } from "../pure/session/player.js";
import { armNow, runOf } from "../pure/session/run.js";
import { gateAfter, msToNext, msToStep } from "../pure/session/timeline.js";
import { SessionCues } from "./cues.js";
import { SessionLooking } from "./looking.js";
import { RunKeeper } from "./run_keeper.js";
import { SessionWatch } from "./watch.js";

/** A step is stored this long before it comes. */
const WRITE_AHEAD_MS = 1000;
/** The lead after a pause: time to take up the weight again. */
const LEAD_MS = 5000;

export class SessionDriver {
  #shown = -1;
  #isShowing = false;
  #over = new AbortController();
  #looking = new SessionLooking(() => this.tick());

  /** @param {import("../main.js").Edges} edges @param {Run} run @param {Session} session @param {View} view */
  constructor(edges, run, session, view) {
    this.edges = edges;
    this.session = session;
    this.view = view;
    this.run = run;
    this.cues = new SessionCues(this.steps, view, edges.tones);
    this.keeper = new RunKeeper(edges, run);
    this.watch = new SessionWatch(edges.clock);
    this.watch.awaySeconds = session.gaps[run.gaps.length]?.[1] ?? 0;
    this.#listen();
    this.tick();
  }

  get steps() {
    return this.run.plan.steps;
  }

  /** Continues with a changed plan. The steps before the current one must keep their indices and lengths. @param {Run} run */
  replan(run) {
    this.run = run;
    this.keeper.forget();
    this.cues = new SessionCues(this.steps, this.view, this.edges.tones);
    this.cues.jump(this.session.atMs);
    this.#shown = -1;
    this.#layTones();
    this.tick();
  }

  get #isRunning() {
    return this.session.status === "running";
  }

  #listen() {
    const { signal } = this.#over;
    const { tones, wakeLock, store } = this.edges;
    const look = () => (document.hidden ? this.#hide() : this.#comeBack());
    document.addEventListener("visibilitychange", look, { signal });
    addEventListener("pageshow", look, { signal });
    addEventListener("pagehide", () => this.#isRunning && this.keeper.saveAtLast(this.#runNow()), { signal });
    const lookAround = () => void this.keeper.look(this.run).then(() => this.tick());
    const stops = [tones.onChange(() => this.#layTones()), wakeLock.onChange(() => this.tick())];
    stops.push(store.onChange(lookAround));
    signal.addEventListener("abort", () => stops.map((stop) => stop()));
  }

  /** Starts or resumes. Must be called inside a tap, for the sound and the screen's lock. */
  go() {
    const isFirst = this.session.status === "ready";
    this.edges.tones.wake();
    this.edges.wakeLock.take();
    this.watch.begin();
    const { mono } = this.watch.good;
    this.#happen({ kind: isFirst ? "start" : "resume", mono, leadMs: isFirst ? 0 : LEAD_MS });
    if (this.#shown >= 0) this.view.announce("step", this.#shown);
  }

  /** @param {"pause"|"skip"|"back"|"rep"} kind @param {number} [to] the step to skip to, the next where none is given */
  do(kind, to) {
    this.tick();
    if (kind === "back") this.#shown = -1;
    this.#happen({ kind, mono: this.edges.clock.mono(), to });
  }

  /** @returns {Moment} */
  moment() {
    return stateAt(this.steps, placeAt(this.steps, this.session, this.edges.clock.mono()));
  }

  /** Must be called inside a tap. */
  bringSoundBack() {
    this.edges.tones.revive();
    this.#layTones();
  }

  /** @param {"completed"|"stopped"|"sharp"} ended @param {string} [why] */
  async end(ended, why = "") {
    if (this.session.status === "ended") return;
    this.#fold({ kind: "end", mono: this.watch.good.mono, ended, why });
    this.#looking.rest();
    if (ended === "completed")
      this.view.announce(isWhole(this.steps, this.session) ? "done" : "over", this.steps.length - 1);
    else for (const sound of [this.edges.tones, this.edges.voice]) sound.hush();
    this.edges.tones.finish();
    const run = this.#runNow();
    // A sharp stop is shown at once; its own page stores it in the log.
    if (ended === "sharp") return this.view.over({ ...run, sharpArm: armNow(run) });
    const { signal } = this.#over;
    await this.keeper.insist(run, () => this.#showNotes(), signal);
    if (!signal.aborted) this.keeper.isTaken ? this.view.taken() : this.view.over(run);
  }

  /** @param {Happening} happening */
  #fold(happening) {
    this.session = happen(this.steps, this.session, happening);
  }

  /** @param {Happening} happening */
  #happen(happening) {
    this.#fold(happening);
    if (happening.kind !== "rep") this.cues.jump(this.session.atMs);
    this.#layTones();
    void this.#save();
    this.tick();
  }

  #layTones() {
    this.cues.lay(this.session, this.edges.clock.mono());
  }

  /** Reads the clocks and updates everything to this instant. */
  tick() {
    if (this.session.status === "ended") return;
    if (this.keeper.left) return this.view[this.keeper.left]();
    const now = this.watch.now();
    const since = this.watch.look(now, this.#isRunning);
    if (since) {
      this.#fold({ kind: "interrupt", mono: since.mono, awaySeconds: this.watch.awaySeconds });
      this.edges.tones.hush();
      void this.#save();
    }
    const atMs = placeAt(this.steps, this.session, now.mono);
    this.cues.pass(atMs, this.#isRunning, this.#shown);
    if (atMs >= totalMs(this.steps) && this.#shown >= 0) return void this.end("completed");
    this.#present(atMs, now.mono);
    this.#showNotes();
    if (this.#isRunning) this.#keepUp(atMs, now.mono);
    this.#lookAgain(atMs, now.mono);
  }

  /** Stores the next step before it comes, so that it can be shown at once. @param {number} atMs @param {number} mono */
  #keepUp(atMs, mono) {
    this.cues.follow(this.session, mono);
    if (this.keeper.isAheadOf(this.#shown)) return;
    const left = document.hidden ? Number.POSITIVE_INFINITY : msToStep(this.steps, atMs);
    if (left <= WRITE_AHEAD_MS && this.#shown >= 0) void this.keeper.saveAhead(this.#runAt(mono + left, left));
    else if (this.keeper.isDue()) void this.#save();
  }

  #hide() {
    this.tick();
    this.watch.hide(() => this.tick());
    void this.#save();
  }

  #comeBack() {
    this.tick();
    if (this.watch.comeBack() && this.session.status === "paused") {
      this.session = withLastGap(this.session, this.watch.awaySeconds);
      void this.#save();
    }
    this.tick();
  }

  /** Shows a step only after the run at that step is stored. @param {number} atMs @param {number} mono */
  #present(atMs, mono) {
    const moment = stateAt(this.steps, atMs);
    if (moment.step !== this.#shown && this.keeper.has(moment.step)) this.#show(moment.step);
    if (moment.step === this.#shown) return this.view.moment(moment, this.session, leadLeft(this.session, mono));
    if (this.#isShowing) return;
    this.#isShowing = true;
    void this.#save().then(() => {
      this.#isShowing = false;
      this.#show(moment.step);
      this.tick();
    });
  }

  /** @param {number} step */
  #show(step) {
    this.#shown = step;
    this.view.step(step);
    if (this.#isRunning) this.view.announce("step", step);
  }

  #showNotes() {
    this.view.notes({
      sound: this.#isRunning && this.edges.tones.isLost(this.edges.clock.mono()),
      lock: this.#isRunning && !document.hidden && !this.edges.wakeLock.isHeld(),
      unsaved: this.keeper.isUnsaved,
      away: this.session.status === "paused" ? this.watch.awaySeconds : 0,
    });
  }

  /** @param {number} atMs @param {number} mono */
  #lookAgain(atMs, mono) {
    if (!this.#isRunning) return this.#looking.rest();
    const lead = leadLeft(this.session, mono);
    const isWaiting = atMs >= gateAfter(this.steps, this.session.atMs);
    const due = lead ? lead % 1000 || 1000 : isWaiting ? Number.POSITIVE_INFINITY : msToNext(this.steps, atMs);
    this.#looking.again(due, !this.view.isStill && !lead && !isWaiting);
  }

  /** @param {number} mono @param {number} [inMs] milliseconds from now to that instant @returns {Run} the run at that instant */
  #runAt(mono, inMs = 0) {
    return runOf(this.run, settle(this.steps, this.session, mono), this.edges.clock.now() + inMs);
  }

  /** Before the start there is nothing to store. @returns {Promise<boolean>} whether the run is stored */
  #save() {
    if (this.session.status === "ready") return Promise.resolve(true);
    return this.keeper.save(this.#runNow());
  }

  #runNow() {
    return this.#runAt(this.watch.trusted());
  }

  /** Pauses the session and releases sound and screen. The session can be resumed later. */
  stop() {
    this.#over.abort();
    if (this.session.status !== "ended") {
      this.do("pause");
      this.edges.voice.hush();
    }
    this.edges.tones.finish();
    this.#looking.rest();
    this.edges.wakeLock.drop();
  }
}
