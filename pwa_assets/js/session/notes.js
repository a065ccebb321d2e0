/**
 * What stands in a session's way: each note is shown while its fault lasts, and once it stands it is told to a screen reader,
 * whoever speaks in the session. Neither the voice nor the cues say any of it.
 *
 * @typedef {import("./cues.js").Notes} Notes
 */

import { fillSlots, find, keepFocus } from "../parts/pieces.js";

/** What passes sooner is not told: a lock that is being taken, a length of absence that is not known in full. */
const STANDS_MS = 1000;

export class SessionNotes {
  /** @type {Map<string, () => void>} takes back what is still to be told */
  #pending = new Map();
  #away = 0;

  /** @param {HTMLElement} root holds the session's template @param {import("../main.js").Edges} edges */
  constructor(root, edges) {
    this.root = root;
    this.edges = edges;
  }

  /** @param {Notes} notes */
  show(notes) {
    this.#tellAway(notes.away);
    for (const [name, shown] of Object.entries(notes)) {
      const note = find(this.root, `[data-note="${name}"]`);
      if (note.hidden === Boolean(shown)) {
        note.hidden = !shown;
        keepFocus(this.root);
      }
      this.#announce(name, note);
    }
  }

  /** A page that is not seen is not heard either: it is told on coming back. @param {string} name @param {HTMLElement} note */
  #announce(name, note) {
    if (note.hidden) {
      this.#pending.get(name)?.();
      this.#pending.delete(name);
    } else if (!document.hidden && !this.#pending.has(name)) {
      const tell = () => this.edges.announce(find(note, "span").textContent ?? "");
      this.#pending.set(name, this.edges.clock.after(STANDS_MS, tell));
    }
  }

  /** The session has ended: what has not been told is not told any more. */
  stop() {
    for (const takeBack of this.#pending.values()) takeBack();
  }

  /** @param {number} seconds */
  #tellAway(seconds) {
    if (!seconds || seconds === this.#away) return;
    this.#away = seconds;
    fillSlots(this.root, { away: this.#awayText(seconds) });
  }

  /** @param {number} seconds */
  #awayText(seconds) {
    const { words } = this.edges;
    if (seconds < 120) return words.plural("play.away_seconds", seconds);
    if (seconds < 7200) return words.plural("play.away_minutes", Math.round(seconds / 60));
    return words.plural("play.away_hours", Math.round(seconds / 3600));
  }
}
