/**
 * Passes on what comes due on a cue sheet: words to be told, tones to be heard and felt. Each once, in order, and none
 * that is late.
 */

import { announcementsDue, announcementTimes, cueTimes, tonesDue } from "../pure/session/cue_times.js";
import { leadLeft, placeAt } from "../pure/session/player.js";
import { gateAfter } from "../pure/session/timeline.js";

/**
 * @typedef {import("../pure/session/timeline.js").Step} Step
 * @typedef {import("../pure/session/player.js").Session} Session
 * @typedef {import("../pure/session/timeline.js").Moment} Moment
 * @typedef {{sound: boolean, lock: boolean, unsaved: boolean, away: number}} Notes what stands in the way, away in seconds
 * @typedef {{step(index: number): void, moment(moment: Moment, session: Session, leadMs: number): void,
 *   notes(notes: Notes): void, isStill: boolean, felt(tone: import("../pure/session/cue_times.js").Tone): void,
 *   announce(kind: import("../pure/session/cue_times.js").AnnouncementKind, index: number, rep?: number): void,
 *   over(run: import("../pure/session/run.js").Run): void, taken(): void}} View what a session is told to; taken: another window has it
 */

export class SessionCues {
  #passed = -1;

  /** @param {Step[]} steps @param {View} view @param {import("../edges/sound/tones.js").Tones} tones */
  constructor(steps, view, tones) {
    this.view = view;
    this.tones = tones;
    this.steps = steps;
    this.cues = cueTimes(steps);
    this.announcements = announcementTimes(steps);
  }

  /** @param {number} ms a place to which the session jumped: what lies before it is not told */
  jump(ms) {
    this.#passed = ms;
  }

  /** Lays out the tones that time alone will bring; takes all back while nothing runs. @param {Session} session @param {number} mono */
  lay(session, mono) {
    if (session.status === "ended") return;
    if (session.status !== "running") return this.tones.hush();
    const gate = gateAfter(this.steps, session.atMs);
    const ahead = this.cues.filter(({ atMs }) => atMs <= gate);
    this.tones.plan(ahead, this.#heardAt(session, mono), mono);
  }

  /** @param {Session} session that runs @param {number} mono */
  follow(session, mono) {
    this.tones.follow(this.#heardAt(session, mono), mono);
  }

  /** The place on the cue sheet; before it by the time that is left to wait. @param {Session} session @param {number} mono */
  #heardAt(session, mono) {
    return placeAt(this.steps, session, mono) - leadLeft(session, mono);
  }

  /**
   * What is told is on the screen: nothing of a step that is still to be shown.
   * @param {number} atMs up to which the session has come
   * @param {boolean} isRunning
   * @param {number} shown step
   */
  pass(atMs, isRunning, shown) {
    const due = announcementsDue(this.announcements, this.#passed, atMs);
    for (const { kind, step, rep } of due) if (step === shown) this.view.announce(kind, step, rep);
    const felt = isRunning ? tonesDue(this.cues, this.#passed, atMs) : [];
    for (const tone of felt) this.view.felt(tone);
    this.#passed = atMs;
  }
}
