/**
 * Says what is due, through the one channel that the client chose, and gives back the words to be shown meanwhile.
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
   * @param {AnnouncementKind} kind
   * @param {Step} step
   * @param {number} [rep]
   * @returns {string} the words spoken, or that would be
   */
  tell(kind, step, rep = 0) {
    const text = this.#text(kind, step, rep);
    if (this.#channel === "voice") this.edges.voice.say(text);
    if (this.#channel === "reader" && kind !== "count") this.edges.announce(this.#toReader(kind, step));
    return text;
  }

  /** A sentence to hear how the voice sounds. @param {string} text */
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

  /** @param {AnnouncementKind} kind @param {Step} step @returns {string} more than the voice says: a screen reader shows no picture */
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
