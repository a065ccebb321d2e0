/**
 * The phone's own voice. It speaks one short sentence at a time, and nothing waits for it: if a voice is missing, stalls or
 * never reports its end, everything else goes on. This module holds no sentence.
 *
 * @typedef {{find(): void, isReady(): boolean, wake(): void, say(text: string): void, hush(): void,
 *   setVolume(volume: number): void, onFound(found: () => void): () => void}} Voice
 */

const LOOK_EVERY_MS = 250;
const MOST_LOOKS = 16;
const LONGEST_MS = 3000;
const LONGEST_LETTER_MS = 150;

/**
 * The voice to use: it is installed on the phone and needs no network; it speaks the reader's variety of the language if it can.
 * @param {readonly SpeechSynthesisVoice[]} voices
 * @param {readonly string[]} tags the best first; the last names the language itself
 * @returns {SpeechSynthesisVoice|null}
 */
export function pickVoice(voices, tags) {
  const local = voices.filter((voice) => voice.localService);
  const sorted = [...local.filter((voice) => voice.default), ...local];
  const base = baseOf(tags[tags.length - 1]);
  const ours = sorted.filter(({ lang }) => baseOf(lang) === base);
  return tags.flatMap((tag) => ours.filter(({ lang }) => plain(lang) === plain(tag)))[0] ?? ours[0] ?? null;
}

/** @param {string} tag some phones write en_US */
const plain = (tag) => tag.replace("_", "-").toLowerCase();

/** @param {string} tag */
const baseOf = (tag) => plain(tag).split("-")[0];

/**
 * @param {import("../clock.js").Clock} clock
 * @param {string[]} tags as `pickVoice` takes them
 * @param {SpeechSynthesis|undefined} [speech]
 * @returns {Voice}
 */
export function createVoice(clock, tags, speech = globalThis.speechSynthesis) {
  return new LocalVoice(clock, tags, speech);
}

/** @implements {Voice} */
class LocalVoice {
  /** @type {SpeechSynthesisVoice|null} */
  #voice = null;
  /** The current utterance. Without this reference some phones never fire its end event. */
  /** @type {SpeechSynthesisUtterance|null} */
  #live = null;
  /** @type {Set<() => void>} */
  #listeners = new Set();
  #volume = 1;

  /** @param {import("../clock.js").Clock} clock @param {string[]} tags @param {SpeechSynthesis|undefined} speech */
  constructor(clock, tags, speech) {
    this.clock = clock;
    this.tags = tags;
    this.speech = speech;
  }

  /** Looks for a voice for some seconds: the list comes late, and its event is not reliable. */
  find() {
    this.#look(MOST_LOOKS);
  }

  /** @param {number} left */
  #look(left) {
    this.#voice = this.speech ? pickVoice(this.speech.getVoices(), this.tags) : null;
    if (this.#voice) for (const found of this.#listeners) found();
    else if (this.speech && left) this.clock.after(LOOK_EVERY_MS, () => this.#look(left - 1));
  }

  isReady() {
    return this.#voice !== null;
  }

  /** Speaks an empty text: after that the browser allows speech outside a tap. Must be called inside a tap. */
  wake() {
    if (this.speech) this.#speak("", 0);
  }

  /** Says a sentence; it cancels the one before. @param {string} text */
  say(text) {
    if (this.#voice) this.#speak(text, this.#volume);
  }

  /** @param {string} text @param {number} volume */
  #speak(text, volume) {
    this.hush();
    const said = new SpeechSynthesisUtterance(text);
    const over = () => {
      if (this.#live === said) this.#live = null;
    };
    Object.assign(said, { voice: this.#voice, lang: this.#voice?.lang ?? "", volume, onend: over, onerror: over });
    this.#live = said;
    this.speech?.speak(said);
    this.clock.after(LONGEST_MS + text.length * LONGEST_LETTER_MS, () => this.#live === said && this.hush());
  }

  /** Cancels only while something is spoken: otherwise some phones stay mute from then on. */
  hush() {
    this.#live = null;
    if (this.speech?.speaking) this.speech.cancel();
  }

  /** @param {number} volume 0 to 1 */
  setVolume(volume) {
    this.#volume = volume;
  }

  /** @param {() => void} found called once there is a voice @returns {() => void} stop */
  onFound(found) {
    this.#listeners.add(found);
    return () => this.#listeners.delete(found);
  }
}
