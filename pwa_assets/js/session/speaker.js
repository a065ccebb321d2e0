/**
 * Says what is due, through the one channel that the client chose, and gives back the words to be shown meanwhile.
 *
 * @typedef {import("../pure/session/cue_times.js").What} What
 * @typedef {import("../pure/session/timeline.js").Step} Step
 */

/** @type {Partial<Record<What, string>>} */
const END_WORDS = { done: "after.completed", over: "after.over" };

export class SessionSpeaker {
  /**
   * @param {import("../main.js").Edges} edges
   * @param {import("../pure/session/ways.js").Ways} ways
   */
  constructor(edges, ways) {
    this.edges = edges;
    this.ways = ways;
  }

  /** A voice and a screen reader would talk at once, so it is never both; where the phone has no voice it is neither. */
  get #channel() {
    const { speaker } = this.ways;
    return speaker === "voice" && !this.edges.voice.isReady() ? "reader" : speaker;
  }

  /** Takes up a choice of speaker, of loudness, of music. */
  tune() {
    const { tones, voice } = this.edges;
    voice.setVolume(this.ways.voiceVolume);
    tones.setVolume(this.ways.toneVolume);
    tones.keepMusic(this.ways.keepsMusic);
    tones.mute(this.ways.speaker === "nothing");
  }

  /** Makes the voice ready. Must be called inside a tap. */
  wake() {
    this.tune();
    if (this.ways.speaker === "voice") this.edges.voice.wake();
  }

  /**
   * @param {What} what
   * @param {Step} step
   * @param {number} [rep]
   * @returns {string} the words spoken, or that would be
   */
  tell(what, step, rep = 0) {
    const text = this.#text(what, step, rep);
    if (this.#channel === "voice") this.edges.voice.say(text);
    if (this.#channel === "reader" && what !== "count") this.edges.announce(this.#toReader(what, step));
    return text;
  }

  /** A sentence to hear how the voice sounds. @param {string} text */
  sample(text) {
    if (this.ways.speaker === "voice") this.edges.voice.say(text);
    if (this.ways.speaker === "reader") this.edges.announce(text);
  }

  /** @param {What} what @param {Step} step @param {number} rep */
  #text(what, { cue }, rep) {
    const { words } = this.edges;
    if (what === "count") return words.number(rep);
    return what === "step" ? cue : words.say(END_WORDS[what] ?? `play.${what}`);
  }

  /** @param {What} what @param {Step} step @returns {string} more than the voice says: a screen reader shows no picture */
  #toReader(what, { cue, hint }) {
    const { words } = this.edges;
    return what === "step"
      ? words.fill("play.step", { cue, hint })
      : words.say(what in END_WORDS ? "play.done" : `play.${what}`);
  }

  /** @param {import("../pure/session/cue_times.js").Tone} tone */
  feel(tone) {
    if (this.ways.vibrates && this.ways.speaker !== "nothing" && this.edges.touch.isThere())
      this.edges.touch.buzz(tone);
  }
}
