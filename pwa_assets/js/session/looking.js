/**
 * When to look again: by a timer, and while something moves by a frame too, thirty times a second at most. What is due never follows
 * from these.
 */

const LOOK_EVERY_MS = 500;
/** The frame after this time is drawn: the second one on a screen that shows sixty a second. */
const STILL_FOR_MS = 28;

export class SessionLooking {
  #timers = /** @type {any[]} */ ([]);
  #frame = 0;

  /** @param {() => void} look */
  constructor(look) {
    this.look = look;
  }

  /** @param {number} inMs at the latest, where it is soon @param {boolean} isMoving */
  again(inMs, isMoving) {
    this.rest();
    this.#timers = [setTimeout(this.look, Math.min(inMs, LOOK_EVERY_MS))];
    if (isMoving) this.#timers.push(setTimeout(() => this.#atNextFrame(), STILL_FOR_MS));
  }

  #atNextFrame() {
    this.#frame = requestAnimationFrame(this.look);
  }

  rest() {
    this.#timers.map(clearTimeout);
    cancelAnimationFrame(this.#frame);
  }
}
