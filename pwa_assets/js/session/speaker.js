/**
 * Says what is due through the one channel that the client chose, and returns the words to show at the same time.
 *
 * @typedef {import("../pure/session/cue_times.js").AnnouncementKind} AnnouncementKind
 * @typedef {import("../pure/session/timeline.js").Step} Step
 */

/** @type {Partial<Record<AnnouncementKind, string>>} */
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

  /** Never both: a voice and a screen reader would talk at once. Without a voice on the phone, the screen reader speaks. */
  get #channel() {
    const { speaker } = this.ways;
    return speaker === "voice" && !this.edges.voice.isReady() ? "reader" : speaker;
  }

  /** Applies the chosen speaker, volumes and music setting. */
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
   * @param {AnnouncementKind} kind
   * @param {Step} step
   * @param {number} [rep]
   * @returns {string} the words for the voice, spoken or not
   */
  tell(kind, step, rep = 0) {
    const text = this.#text(kind, step, rep);
    if (this.#channel === "voice") this.edges.voice.say(text);
    if (this.#channel === "reader" && kind !== "count") this.edges.announce(this.#toReader(kind, step));
    return text;
  }

  /** Says a sentence, so that the client hears how the voice sounds. @param {string} text */
  sample(text) {
    if (this.ways.speaker === "voice") this.edges.voice.say(text);
    if (this.ways.speaker === "reader") this.edges.announce(text);
  }

  /** @param {AnnouncementKind} kind @param {Step} step @param {number} rep */
  #text(kind, { cue }, rep) {
    const { words } = this.edges;
    if (kind === "count") return words.number(rep);
    return kind === "step" ? cue : words.say(END_WORDS[kind] ?? `play.${kind}`);
  }

  /** @param {AnnouncementKind} kind @param {Step} step @returns {string} with the hint of a step: a screen reader cannot show the picture */
  #toReader(kind, { cue, hint }) {
    const { words } = this.edges;
    return kind === "step"
      ? words.fill("play.step", { cue, hint })
      : words.say(kind in END_WORDS ? "play.done" : `play.${kind}`);
  }

  /** @param {import("../pure/session/cue_times.js").Tone} tone */
  feel(tone) {
    if (this.ways.vibrates && this.ways.speaker !== "nothing" && this.edges.touch.isThere())
      this.edges.touch.buzz(tone);
  }
}
