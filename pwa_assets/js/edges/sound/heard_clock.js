/**
 * What is heard at an instant, as the sound hardware tells it. One word of the hardware may be some milliseconds off on a
 * busy phone, and it needs a while after its start before it tells it rightly; the middle of the last few does not move.
 *
 * @typedef {Pick<AudioContext, "currentTime"|"outputLatency"|"getOutputTimestamp">} Sound
 */

const KEPT = 15;
const ENOUGH = 5;
/** An older word is of a time before an interruption. */
const STAMP_AGE_MS = 500;
const WARM_S = 2;

export class HeardClock {
  /** @type {number[]} seconds by which the clock of what is heard is ahead of the forward clock */
  #ahead = [];

  /** Whether the hardware has run for long enough, and told it often enough, to be relied on. */
  isSure = false;

  /** Forgets what was told: the hardware was interrupted, or is another. */
  forget() {
    this.#ahead = [];
    this.isSure = false;
  }

  /** Takes what the hardware tells now. @param {Sound} sound @param {number} mono now, ms */
  look(sound, mono) {
    const { contextTime = 0, performanceTime = 0 } = sound.getOutputTimestamp?.() ?? {};
    const isFresh = contextTime > 0 && Math.abs(mono - performanceTime) < STAMP_AGE_MS;
    const ahead = isFresh
      ? contextTime - performanceTime / 1000
      : sound.currentTime - (sound.outputLatency || 0) - mono / 1000;
    this.#ahead = [...this.#ahead, ahead].slice(-KEPT);
    this.isSure = sound.currentTime >= WARM_S && this.#ahead.length >= ENOUGH;
  }

  /** @param {number} mono an instant of the forward clock, ms @returns {number} what is heard then, in seconds on the audio clock */
  at(mono) {
    const sorted = [...this.#ahead].sort((a, b) => a - b);
    return mono / 1000 + (sorted[sorted.length >> 1] ?? 0);
  }
}
