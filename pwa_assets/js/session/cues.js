/**
 * Passes on what is due on a cue sheet: announcements for the view, tones for the ear and the hand. Each is passed on once and
 * in order; what is late is dropped.
 */

import { announcementsDue, announcementTimes, cueTimes, tonesDue } from "../pure/session/cue_times.js";
import { leadLeft, placeAt } from "../pure/session/player.js";
import { gateAfter } from "../pure/session/timeline.js";

/**
 * @typedef {import("../pure/session/timeline.js").Step} Step
 * @typedef {import("../pure/session/player.js").Session} Session
 * @typedef {import("../pure/session/timeline.js").Moment} Moment
 * @typedef {{sound: boolean, lock: boolean, unsaved: boolean, away: number}} Notes the faults to show; away in seconds
 * @typedef {{step(index: number): void, moment(moment: Moment, session: Session, leadMs: number): void,
 *   notes(notes: Notes): void, isStill: boolean, felt(tone: import("../pure/session/cue_times.js").Tone): void,
 *   announce(kind: import("../pure/session/cue_times.js").AnnouncementKind, index: number, rep?: number): void,
 *   over(run: import("../pure/session/run.js").Run): void, taken(): void, halted(): void}} View what the driver calls; taken: another window owns the run; halted: it must not go on
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

  /** @param {number} ms the place to which the session jumped; what lies before it is not passed on */
  jump(ms) {
    this.#passed = ms;
  }

  /** Schedules the tones up to the next gate; cancels all tones while the session does not run. @param {Session} session @param {number} mono */
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

  /** The place on the cue sheet, minus the time that is left of the lead. @param {Session} session @param {number} mono */
  #heardAt(session, mono) {
    return placeAt(this.steps, session, mono) - leadLeft(session, mono);
  }

  /**
   * Announces only what belongs to the step on the screen.
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
