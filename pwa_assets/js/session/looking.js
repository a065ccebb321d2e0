/**
 * When to look again: by a timer, and while something moves by the next frame too. What is due never follows from these.
 */

const LOOK_EVERY_MS = 500;

export class SessionLooking {
  #timer = /** @type {any} */ (0);
  #frame = 0;

  /** @param {() => void} look */
  constructor(look) {
    this.look = look;
  }

  /** @param {number} inMs at the latest, where it is soon @param {boolean} isMoving */
  again(inMs, isMoving) {
    this.rest();
    this.#timer = setTimeout(this.look, Math.min(inMs, LOOK_EVERY_MS));
    if (isMoving) this.#frame = requestAnimationFrame(this.look);
  }

  rest() {
    clearTimeout(this.#timer);
    cancelAnimationFrame(this.#frame);
  }
}
