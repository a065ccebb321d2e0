/**
 * Keeps the run on the phone while it is played, and knows whether the last writing succeeded. A step is written down
 * shortly before it comes, so that it is on the phone by then and can be shown at once; any other writing undoes that.
 *
 * @typedef {import("../pure/session/run.js").Run} Run
 */

import { TakenError } from "../pure/session/run.js";

const SAVE_EVERY_MS = 5000;
const TRY_AGAIN_MS = 1000;

export class RunKeeper {
  #savedAt = 0;
  /** The step that is written down ahead, or being so. */
  #coming = -1;
  /** The step that is on the phone, whether its time has come or not. */
  #kept = -1;
  isUnsaved = false;
  /** Another window goes on with the session, or has ended it. */
  isTaken = false;

  /** @param {import("../main.js").Edges} edges @param {Run} run as it was read from the phone, or new */
  constructor({ store, clock }, run) {
    this.store = store;
    this.clock = clock;
    this.#kept = run.step;
  }

  /** @param {Run} run as it is now @returns {Promise<boolean>} whether it is on the phone */
  save(run) {
    this.forget();
    return this.#write(run);
  }

  /** @param {Run} run as it will be when its step comes */
  async saveAhead(run) {
    this.#coming = run.step;
    const isSaved = await this.#write(run);
    if (isSaved && this.#coming === run.step) this.#kept = run.step;
  }

  /** The page may be left in this instant. @param {Run} run */
  saveAtLast(run) {
    if (!this.isTaken) this.store.saveRunAtLast(run).catch(() => undefined);
  }

  /** What was written ahead counts no more. */
  forget() {
    this.#coming = -1;
    this.#kept = -1;
  }

  /** @param {number} step @returns {boolean} whether it may be shown because it is on the phone */
  has(step) {
    return step === this.#kept;
  }

  /** @param {number} step that is shown @returns {boolean} whether a later one is written down, or being so */
  isAheadOf(step) {
    return this.#coming > step;
  }

  /** @param {Run} run */
  async #write(run) {
    this.#savedAt = this.clock.mono();
    const fault = await this.store.saveRun(run).catch((error) => error);
    this.isTaken ||= fault instanceof TakenError;
    this.isUnsaved = Boolean(fault) && !this.isTaken;
    return !fault;
  }

  /** Asks whether another window has taken it. @param {Run} run */
  async look(run) {
    this.isTaken ||= !(await this.store.ownsRun(run).catch(() => true));
  }

  /** @returns {boolean} whether it is time to write again */
  isDue() {
    return this.clock.mono() - this.#savedAt > SAVE_EVERY_MS;
  }

  /**
   * Writes until it succeeds, or nobody waits for it any more: nothing may say that a session is over before.
   * @param {Run} run
   * @param {() => void} failed called after each time it did not
   * @param {AbortSignal} signal
   */
  async insist(run, failed, signal) {
    while (!(await this.save(run)) && !this.isTaken && !signal.aborted) {
      failed();
      await new Promise((done) => this.clock.after(TRY_AGAIN_MS, () => done(null)));
    }
  }
}
