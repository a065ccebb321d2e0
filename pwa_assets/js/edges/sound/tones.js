/**
 * Tones on the audio clock. The tones of the next seconds are scheduled ahead, so that a busy page cannot make one late.
 * When the session pauses, jumps or was interrupted, they are cancelled and scheduled again. Only some seconds are scheduled:
 * if the page freezes, few tones sound on. If the audio clock and the session's clock drift apart, the tones that are not
 * scheduled yet follow the session; a scheduled tone never moves.
 * This module holds no sentence. The page shows whether the sound is lost.
 *
 * @typedef {import("../../pure/session/cue_times.js").Cue} Cue
 * @typedef {import("../../pure/session/cue_times.js").Tone} Tone
 * @typedef {{wake(): void, keepMusic(isKept: boolean): void, canKeepMusic(): boolean, plan(cues: Cue[], fromMs: number, mono: number): void, follow(atMs: number, mono: number): void, hush(): void,
 *   sample(tone: Tone): void, isLost(mono: number): boolean, revive(): void, finish(): void,
 *   setVolume(volume: number): void, mute(isMute: boolean): void, onChange(heard: () => void): () => void}} Tones
 */

import { HeardClock } from "./heard_clock.js";
import { playNotes } from "./tone_notes.js";

const FROZEN_MS = 500;
const LATE_S = 0.05;
/**
 * How far ahead tones are scheduled; the next are scheduled once half of it is over. A page that stands still for longer
 * counts as interrupted. While the clocks are not compared reliably yet, less is scheduled.
 */
const AHEAD_MS = 16000;
const UNSURE_AHEAD_MS = 1000;
const APART_MS = 20;
const RING_OUT_MS = 2500;
/** Too quiet for any loudspeaker. After half a minute of true silence a browser parks the hardware, and its clock shifts. */
const HUM = 1e-5;
/** No tone has to sound at once, so the hardware may buffer more; a busy phone cannot interrupt what is in the buffer. */
const UNHURRIED = /** @type {const} */ ({ latencyHint: "playback" });

/**
 * @param {() => AudioContext} [makeContext] called inside a tap
 * @returns {Tones}
 */
export function createTones(makeContext = () => new AudioContext(UNHURRIED)) {
  return new AudioClock(makeContext);
}

/** @implements {Tones} */
class AudioClock {
  /** @type {AudioContext|null} */
  #context = null;
  /** @type {GainNode|null} */
  #master = null;
  /** @type {Set<OscillatorNode>} */
  #planned = new Set();
  /** @type {Cue[]} the cues that are not scheduled yet */
  #cues = [];
  #laidMs = 0;
  #isSure = false;
  #heard = new HeardClock();
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
    this.#heard.forget();
    this.#context?.resume().catch(() => undefined);
  }

  canKeepMusic() {
    return "audioSession" in navigator;
  }

  /** @param {boolean} isKept whether other sound goes on; then the phone's silent switch mutes our tones */
  keepMusic(isKept) {
    this.#session = isKept ? "transient" : "playback";
  }

  #build() {
    const context = this.makeContext();
    this.#master = context.createGain();
    this.#level();
    this.#master.connect(context.destination);
    const hum = context.createConstantSource();
    hum.offset.value = HUM;
    hum.connect(this.#master);
    hum.start();
    context.addEventListener("statechange", () => {
      // An old context reports its closing late, when a new one may already play.
      if (context !== this.#context) return;
      this.#heard.forget();
      this.#tell();
    });
    this.#context = context;
    this.#planned.clear();
  }

  #tell() {
    for (const heard of this.#listeners) heard();
  }

  /** Replaces the audio context after the sound was lost. Must be called inside a tap. */
  revive() {
    this.hush();
    this.#context?.close().catch(() => undefined);
    this.#context = null;
    this.wake();
  }

  /**
   * Schedules the cues from a place of the session on.
   * @param {Cue[]} cues
   * @param {number} fromMs the session's place now; negative while it waits for its start
   * @param {number} mono now, ms
   */
  plan(cues, fromMs, mono) {
    this.hush();
    if (!this.#context) return;
    this.#cues = cues.filter(({ atMs }) => atMs >= fromMs);
    this.#heard.look(this.#context, mono);
    this.#settleOrigin(fromMs, mono);
    this.#lay(fromMs);
  }

  /** Schedules the next cues when it is time to. @param {number} atMs the session's place now @param {number} mono now, ms */
  follow(atMs, mono) {
    if (!this.#context || !this.#cues.length) return;
    this.#heard.look(this.#context, mono);
    if (this.#laidMs - atMs > this.#aheadMs / 2) return;
    const apart = Math.abs(this.#originAt(atMs, mono) - this.#origin) * 1000;
    if (!this.#isSure || apart > APART_MS) this.#settleOrigin(atMs, mono);
    this.#lay(atMs);
  }

  get #aheadMs() {
    return this.#isSure ? AHEAD_MS : UNSURE_AHEAD_MS;
  }

  /** Fixes the instant of the audio clock at which the session starts. @param {number} atMs @param {number} mono */
  #settleOrigin(atMs, mono) {
    this.#origin = this.#originAt(atMs, mono);
    this.#isSure = this.#heard.isSure;
  }

  /** @param {number} atMs */
  #lay(atMs) {
    this.#laidMs = atMs + this.#aheadMs;
    const now = /** @type {AudioContext} */ (this.#context).currentTime;
    const later = this.#cues.findIndex((cue) => cue.atMs > this.#laidMs);
    for (const cue of this.#cues.splice(0, later < 0 ? this.#cues.length : later)) {
      const when = this.#origin + cue.atMs / 1000;
      if (when > now - LATE_S) this.#plan(this.#sound(cue.tone, Math.max(when, 0)));
    }
  }

  /** @param {OscillatorNode[]} voices that can be cancelled until they have sounded */
  #plan(voices) {
    for (const voice of voices) {
      voice.onended = () => this.#planned.delete(voice);
      this.#planned.add(voice);
    }
  }

  /** Uses what is heard at this instant, not what is in the buffer. @param {number} atMs the session's place now @param {number} mono now, ms */
  #originAt(atMs, mono) {
    return this.#heard.at(mono) - atMs / 1000;
  }

  /** @param {Tone} tone @param {number} when seconds on the audio clock @returns {OscillatorNode[]} */
  #sound(tone, when) {
    return this.#context && this.#master ? playNotes(this.#context, this.#master, tone, when) : [];
  }

  /** Cancels every scheduled tone. */
  hush() {
    for (const voice of this.#planned) {
      voice.stop();
      voice.disconnect();
    }
    this.#planned.clear();
    this.#cues = [];
  }

  /**
   * Plays one tone at once, to show how loud it is. It belongs to no session and is never cancelled. Must be called inside a tap.
   * @param {Tone} tone
   */
  sample(tone) {
    this.wake();
    if (this.#context) this.#sound(tone, this.#context.currentTime + LATE_S);
  }

  /**
   * Whether no sound can be heard: the context is asleep or interrupted, or its clock stands still though its state is 'running'.
   * @param {number} mono now, ms
   * @returns {boolean}
   */
  isLost(mono) {
    const time = this.#context?.currentTime ?? -1;
    if (time !== this.#seen.time || this.#seen.mono === 0) this.#seen = { time, mono };
    return !this.#context || mono - this.#seen.mono >= FROZEN_MS;
  }

  /** Lets the last tone ring out, then closes the context. */
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
