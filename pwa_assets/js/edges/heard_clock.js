/**
 * What is heard at an instant, as the sound hardware tells it. One word of the hardware may be some milliseconds off on a
 * busy phone, and it needs a while after its start before it tells it rightly; the middle of the last few does not move.
 * Sound that breaks off is late from then on, and is followed at once. It cannot get ahead of time, so hardware that says
 * so is believed only when it still does after minutes: a fuller store looks like that, and empties again.
 *
 * @typedef {Pick<AudioContext, "currentTime"|"outputLatency"|"getOutputTimestamp">} Sound
 */

const KEPT = 15;
const ENOUGH = 5;
/** An older word is of a time before an interruption. */
const STAMP_AGE_MS = 500;
const WARM_S = 2;
const LOOK_BACK_MS = 120_000;
const APART_MS = 1000;

/** @param {number[]} values */
const middle = (values) => [...values].sort((a, b) => a - b)[values.length >> 1] ?? 0;

export class HeardClock {
  /** @type {number[]} seconds by which the clock of what is heard is ahead of the forward clock, as told of late */
  #told = [];
  /** @type {{mono: number, ahead: number}[]} the least of each second that is looked back on */
  #least = [];

  /** Whether the hardware has run for long enough, and told it often enough, to be relied on. */
  isSure = false;

  /** Forgets what was told: the hardware was interrupted, or is another. */
  forget() {
    this.#told = [];
    this.#least = [];
    this.isSure = false;
  }

  /** Takes what the hardware tells now. @param {Sound} sound @param {number} mono now, ms */
  look(sound, mono) {
    const { contextTime = 0, performanceTime = 0 } = sound.getOutputTimestamp?.() ?? {};
    const isFresh = contextTime > 0 && Math.abs(mono - performanceTime) < STAMP_AGE_MS;
    const ahead = isFresh
      ? contextTime - performanceTime / 1000
      : sound.currentTime - (sound.outputLatency || 0) - mono / 1000;
    this.#told = [...this.#told, ahead].slice(-KEPT);
    this.isSure = sound.currentTime >= WARM_S && this.#told.length >= ENOUGH;
    if (this.isSure) this.#lookBack(mono, middle(this.#told));
  }

  /** @param {number} mono @param {number} ahead */
  #lookBack(mono, ahead) {
    const last = this.#least.at(-1);
    if (last && mono - last.mono < APART_MS) last.ahead = Math.min(last.ahead, ahead);
    else this.#least = [...this.#least.filter((one) => mono - one.mono < LOOK_BACK_MS), { mono, ahead }];
  }

  /** @param {number} mono an instant of the forward clock, ms @returns {number} what is heard then, in seconds on the audio clock */
  at(mono) {
    const least = this.#least.map(({ ahead }) => ahead);
    return mono / 1000 + (least.length ? Math.min(...least) : middle(this.#told));
  }
}
