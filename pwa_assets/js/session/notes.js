/**
 * The notes about faults in a session. Each note is shown while its fault lasts. If the fault stays for a second, a screen reader
 * reads the note, whichever speaker the client chose. The voice and the cues never say a note.
 *
 * @typedef {import("./cues.js").Notes} Notes
 */

import { fillSlots, find, keepFocus } from "../parts/pieces.js";

/** A fault that ends sooner is not announced: the lock is being requested, or the length of an absence is not final. */
const STANDS_MS = 1000;

export class SessionNotes {
  /** @type {Map<string, () => void>} by note: cancels its announcement */
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

  /** Announces nothing while the page is hidden, but when it is visible again. @param {string} name @param {HTMLElement} note */
  #announce(name, note) {
    if (note.hidden) {
      this.#pending.get(name)?.();
      this.#pending.delete(name);
    } else if (!document.hidden && !this.#pending.has(name)) {
      const tell = () => this.edges.announce(find(note, "span").textContent ?? "");
      this.#pending.set(name, this.edges.clock.after(STANDS_MS, tell));
    }
  }

  /** Cancels the announcements that are still due, at the end of the session. */
  stop() {
    for (const cancel of this.#pending.values()) cancel();
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
