/**
 * Passes on what comes due on a cue sheet: words to be told, tones to be felt. Each once, in order, and none that is late.
 */

import { cueTimes, noticesDue, noticeTimes, tonesDue } from "../pure/cue_times.js";
import { gateAfter } from "../pure/timeline.js";

/** @typedef {import("../pure/timeline.js").Step} Step */

export class SessionCues {
  #passed = -1;

  /** @param {Step[]} steps @param {import("./session_driver.js").View} view */
  constructor(steps, view) {
    this.view = view;
    this.steps = steps;
    this.cues = cueTimes(steps);
    this.notices = noticeTimes(steps);
  }

  /** @param {number} ms a place to which the session jumped: what lies before it is not told */
  jump(ms) {
    this.#passed = ms;
  }

  /** @param {number} ms a place @returns {import("../pure/cue_times.js").Cue[]} those that time alone will bring */
  ahead(ms) {
    const gate = gateAfter(this.steps, ms);
    return this.cues.filter(({ atMs }) => atMs <= gate);
  }

  /** @param {number} place up to which the session has come @param {boolean} isRunning */
  pass(place, isRunning) {
    const due = noticesDue(this.notices, this.#passed, place);
    for (const { what, step, rep } of due) this.view.notice(what, step, rep);
    const felt = isRunning ? tonesDue(this.cues, this.#passed, place) : [];
    for (const tone of felt) this.view.felt(tone);
    this.#passed = place;
  }
}
