/**
 * Watches over the time of a running session: whether any has passed that nobody can have followed.
 * Two clocks are compared, one that only runs forward and the one on the wall; a phone that slept, a page that was frozen
 * and a clock that was set all show as a gap after the last instant at which all was well.
 *
 * @typedef {{mono: number, wall: number}} Instant
 */

const CLOCKS_APART_MS = 2000;
const AWAY_MS = 3000;

export class SessionWatch {
  /** @type {Instant|null} */
  #hiddenAt = null;
  /** Whether the last gap came while the page was hidden as it now is. */
  #isGapOfHiding = false;
  /** Seconds of the last gap, until the session goes on. */
  awaySeconds = 0;

  /** @param {import("../edges/clock.js").Clock} clock */
  constructor(clock) {
    this.clock = clock;
    this.good = this.now();
  }

  /** @returns {Instant} */
  now() {
    return { mono: this.clock.mono(), wall: this.clock.now() };
  }

  /** The session goes on from here. */
  begin() {
    this.good = this.now();
    this.awaySeconds = 0;
    this.#isGapOfHiding = false;
  }

  /**
   * @param {Instant} now
   * @param {boolean} isRunning
   * @returns {Instant|null} the last good instant, if there is a gap after it
   */
  look(now, isRunning) {
    const since = isRunning ? this.#lostSince(now) : null;
    if (since) {
      this.awaySeconds = secondsAway(since, now);
      this.#isGapOfHiding = this.#hiddenAt !== null;
    }
    if (since || !this.#hiddenAt) this.good = now;
    return since;
  }

  /** @param {Instant} now */
  #lostSince(now) {
    if (this.#hiddenAt && now.mono - this.#hiddenAt.mono > AWAY_MS) return this.#hiddenAt;
    const [ran, passed] = [now.mono - this.good.mono, now.wall - this.good.wall];
    return Math.abs(passed - ran) > CLOCKS_APART_MS || ran > AWAY_MS ? this.good : null;
  }

  /** The page cannot be seen any more. @param {() => void} look called when that has lasted too long */
  hide(look) {
    this.#hiddenAt ??= this.now();
    this.clock.after(AWAY_MS + 100, look);
  }

  /** @returns {boolean} whether a gap that this hiding made is now known in full; an earlier one stays as it was */
  comeBack() {
    const [hiddenAt, isGapOfHiding] = [this.#hiddenAt, this.#isGapOfHiding];
    this.#hiddenAt = null;
    this.#isGapOfHiding = false;
    if (!hiddenAt || !isGapOfHiding) return false;
    this.awaySeconds = secondsAway(hiddenAt, this.now());
    return true;
  }

  /** @returns {number} up to which instant of the forward clock the session may be written down as played */
  trusted() {
    return this.#hiddenAt?.mono ?? this.clock.mono();
  }
}

/** @param {Instant} from @param {Instant} to */
function secondsAway(from, to) {
  return Math.max(1, Math.round(Math.max(to.wall - from.wall, to.mono - from.mono) / 1000));
}
