/**
 * Which instant of the audio clock is heard now, as the sound hardware reports it. On a busy phone one report may be wrong
 * by some milliseconds, and the first reports after a start are wrong too. The median of the last reports is steady.
 *
 * @typedef {Pick<AudioContext, "currentTime"|"outputLatency"|"getOutputTimestamp">} Sound
 */

const KEPT = 15;
const ENOUGH = 5;
/** A report that is older than this is from before an interruption. */
const STAMP_AGE_MS = 500;
const WARM_S = 2;

export class HeardClock {
  /** @type {number[]} seconds by which what is heard is ahead of the monotonic clock, for each report */
  #ahead = [];

  /** Whether the hardware has run long enough, and reported often enough, to be reliable. */
  isSure = false;

  /** Forgets all reports: the hardware was interrupted, or is new. */
  forget() {
    this.#ahead = [];
    this.isSure = false;
  }

  /** Takes one report of the hardware. @param {Sound} sound @param {number} mono now, ms */
  look(sound, mono) {
    const { contextTime = 0, performanceTime = 0 } = sound.getOutputTimestamp?.() ?? {};
    const isFresh = contextTime > 0 && Math.abs(mono - performanceTime) < STAMP_AGE_MS;
    const ahead = isFresh
      ? contextTime - performanceTime / 1000
      : sound.currentTime - (sound.outputLatency || 0) - mono / 1000;
    this.#ahead = [...this.#ahead, ahead].slice(-KEPT);
    this.isSure = sound.currentTime >= WARM_S && this.#ahead.length >= ENOUGH;
  }

  /** @param {number} mono an instant of the monotonic clock, ms @returns {number} what is heard then, in seconds on the audio clock */
  at(mono) {
    const sorted = [...this.#ahead].sort((a, b) => a - b);
    return mono / 1000 + (sorted[sorted.length >> 1] ?? 0);
  }
}
