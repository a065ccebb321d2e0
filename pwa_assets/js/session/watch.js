/**
 * Finds gaps in a running session: time that nobody can have followed.
 * It compares two clocks, the monotonic clock and the wall clock. A phone that slept, a page that froze and a clock that was
 * set all show as a gap after the last good instant.
 *
 * @typedef {{mono: number, wall: number}} Instant
 */

const CLOCKS_APART_MS = 2000;
const AWAY_MS = 3000;

export class SessionWatch {
  /** @type {Instant|null} */
  #hiddenAt = null;
  /** Whether the last gap began in the current absence of the page. */
  #isGapOfHiding = false;
  /** The length of the last gap in seconds; 0 once the session goes on. */
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

  /** Starts afresh: the session goes on from now. */
  begin() {
    this.good = this.now();
    this.awaySeconds = 0;
    this.#isGapOfHiding = false;
  }

  /**
   * @param {Instant} now
   * @param {boolean} isRunning
   * @returns {Instant|null} the last good instant before a new gap; null where there is no gap
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

  /** The page was hidden. @param {() => void} look called when that has lasted too long */
  hide(look) {
    this.#hiddenAt ??= this.now();
    this.clock.after(AWAY_MS + 100, look);
  }

  /** The page is visible again. @returns {boolean} whether the gap of this absence now has its final length; an earlier gap stays */
  comeBack() {
    const [hiddenAt, isGapOfHiding] = [this.#hiddenAt, this.#isGapOfHiding];
    this.#hiddenAt = null;
    this.#isGapOfHiding = false;
    if (!hiddenAt || !isGapOfHiding) return false;
    this.awaySeconds = secondsAway(hiddenAt, this.now());
    return true;
  }

  /** @returns {number} the instant of the monotonic clock up to which the session may count as played */
  trusted() {
    return this.#hiddenAt?.mono ?? this.clock.mono();
  }
}

/** @param {Instant} from @param {Instant} to */
function secondsAway(from, to) {
  return Math.max(1, Math.round(Math.max(to.wall - from.wall, to.mono - from.mono) / 1000));
}
