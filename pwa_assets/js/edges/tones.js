/**
 * Tones on the audio clock. A whole session's tones are handed to the sound hardware ahead of time, so that a busy page
 * cannot make one late; they are taken back and laid out anew whenever the session pauses, jumps or was interrupted.
 * Knows pitches and no sentence; whether sound is lost is for the page to show.
 *
 * @typedef {import("../pure/cue_times.js").Cue} Cue
 * @typedef {import("../pure/cue_times.js").Tone} Tone
 * @typedef {{wake(): void, keepMusic(isKept: boolean): void, canKeepMusic(): boolean, plan(cues: Cue[], fromMs: number): void, hush(): void, sample(tone: Tone): void,
 *   driftMs(atMs: number): number, isLost(mono: number): boolean, isAwake(): boolean, revive(): void, finish(): void,
 *   setVolume(volume: number): void, mute(isMute: boolean): void, onChange(heard: () => void): () => void}} Tones
 */

/** Each tone: notes of [hertz, start in seconds, length in seconds]. Up is high, down is low. */
const NOTES = /** @type {Record<Tone, [number, number, number][]>} */ ({
  step: [
    [523, 0, 0.12],
    [784, 0.13, 0.22],
  ],
  up: [[784, 0, 0.1]],
  down: [[392, 0, 0.14]],
  tick: [[1047, 0, 0.05]],
  arm: [
    [659, 0, 0.14],
    [523, 0.16, 0.14],
    [659, 0.32, 0.14],
    [784, 0.48, 0.26],
  ],
  end: [
    [523, 0, 0.18],
    [659, 0.2, 0.18],
    [784, 0.4, 0.18],
    [1047, 0.6, 0.5],
  ],
});
const RISE = 0.008;
const FROZEN_MS = 500;
const LATE_S = 0.05;
const RING_OUT_MS = 2500;

/**
 * @param {() => AudioContext} [makeContext] called inside a tap
 * @returns {Tones}
 */
export function createTones(makeContext = () => new AudioContext()) {
  return new AudioClock(makeContext);
}

/** @implements {Tones} */
class AudioClock {
  /** @type {AudioContext|null} */
  #context = null;
  /** @type {GainNode|null} */
  #master = null;
  /** @type {OscillatorNode[]} */
  #planned = [];
  /** @type {Set<() => void>} */
  #listeners = new Set();
  #loudness = 0.7;
  #isMute = false;
  #session = "playback";
  #origin = 0;
  #seen = { time: -1, mono: 0 };

  /** @param {() => AudioContext} makeContext */
  constructor(makeContext) {
    this.makeContext = makeContext;
  }

  /** Makes the sound ready. Must be called inside a tap. */
  wake() {
    const session = /** @type {any} */ (navigator).audioSession;
    if (session) session.type = this.#session;
    if (!this.#context || this.#context.state === "closed") this.#build();
    this.#seen = { time: -1, mono: 0 };
    this.#context?.resume().catch(() => undefined);
  }

  canKeepMusic() {
    return "audioSession" in navigator;
  }

  /** @param {boolean} isKept whether other sound plays on; ours is then as silent as the phone's ringer */
  keepMusic(isKept) {
    this.#session = isKept ? "transient" : "playback";
  }

  #build() {
    const context = this.makeContext();
    this.#master = context.createGain();
    this.#level();
    this.#master.connect(context.destination);
    context.addEventListener("statechange", () => this.#tell());
    this.#context = context;
    this.#planned = [];
  }

  #tell() {
    for (const heard of this.#listeners) heard();
  }

  /** Brings lost sound back with a new context. Must be called inside a tap. */
  revive() {
    this.hush();
    this.#context?.close().catch(() => undefined);
    this.#context = null;
    this.wake();
  }

  /**
   * Lays out every cue from a place of the session on; that place is now.
   * @param {Cue[]} cues
   * @param {number} fromMs may be below 0 by the time to wait first
   */
  plan(cues, fromMs) {
    this.hush();
    if (!this.#context) return;
    this.#origin = this.#context.currentTime - fromMs / 1000;
    const early = this.#context.outputLatency || 0;
    for (const { atMs, tone } of cues) {
      const when = this.#origin + atMs / 1000 - early;
      if (atMs >= fromMs && when > this.#context.currentTime - LATE_S) this.#sound(tone, Math.max(when, 0));
    }
  }

  /** @param {Tone} tone @param {number} when seconds on the audio clock */
  #sound(tone, when) {
    for (const [hertz, after, length] of NOTES[tone]) this.#note(hertz, when + after, length);
  }

  /** @param {number} hertz @param {number} start @param {number} length */
  #note(hertz, start, length) {
    if (!this.#context || !this.#master) return;
    const [voice, gate] = [this.#context.createOscillator(), this.#context.createGain()];
    voice.frequency.value = hertz;
    voice.connect(gate);
    gate.connect(this.#master);
    gate.gain.setValueAtTime(0, start);
    gate.gain.linearRampToValueAtTime(0.9, start + RISE);
    gate.gain.setTargetAtTime(0, start + length * 0.6, length / 4);
    voice.start(start);
    voice.stop(start + length * 2);
    this.#planned.push(voice);
  }

  /** Takes back every tone that was laid out. */
  hush() {
    for (const voice of this.#planned) {
      voice.stop();
      voice.disconnect();
    }
    this.#planned = [];
  }

  /** One tone at once, to hear how loud it is. Must be called inside a tap. @param {Tone} tone */
  sample(tone) {
    this.wake();
    if (this.#context) this.#sound(tone, this.#context.currentTime + LATE_S);
  }

  /** @param {number} atMs the session's place now @returns {number} how far the tones laid out are off it */
  driftMs(atMs) {
    return this.#context ? Math.abs((this.#context.currentTime - this.#origin) * 1000 - atMs) : 0;
  }

  /**
   * Whether nothing can be heard: asleep, interrupted, or a clock that stands still though it says it runs.
   * @param {number} mono now, ms
   * @returns {boolean}
   */
  isLost(mono) {
    const time = this.#context?.currentTime ?? -1;
    if (time !== this.#seen.time || this.#seen.mono === 0) this.#seen = { time, mono };
    return !this.#context || mono - this.#seen.mono >= FROZEN_MS;
  }

  isAwake() {
    return this.#context?.state === "running";
  }

  /** Lets the last tone ring out, then gives the hardware back. */
  finish() {
    const context = this.#context;
    this.#context = null;
    setTimeout(() => context?.close().catch(() => undefined), RING_OUT_MS);
  }

  /** @param {number} volume 0 to 1 */
  setVolume(volume) {
    this.#loudness = volume;
    this.#level();
  }

  /** @param {boolean} isMute */
  mute(isMute) {
    this.#isMute = isMute;
    this.#level();
  }

  #level() {
    if (this.#master) this.#master.gain.value = this.#isMute ? 0 : this.#loudness;
  }

  /** @param {() => void} heard called when the hardware changes its state @returns {() => void} stop */
  onChange(heard) {
    this.#listeners.add(heard);
    return () => this.#listeners.delete(heard);
  }
}
