/**
 * Stores the run while it is played, and knows whether the last write succeeded. A step is stored shortly before it comes,
 * so that it can be shown at once. Any other write makes that early write invalid.
 *
 * @typedef {import("../pure/session/run.js").Run} Run
 */

import { isStopped, TakenError } from "../pure/session/run.js";

const SAVE_EVERY_MS = 5000;
const TRY_AGAIN_MS = 1000;

export class RunKeeper {
  #savedAt = 0;
  /** The step that is stored ahead, or whose write is under way. */
  #coming = -1;
  /** The stored step, even if its time has not come. */
  #kept = -1;
  isUnsaved = false;
  /** Another window has taken or ended the run. */
  isTaken = false;
  /** Word has come that the run must not go on. */
  isHalted = false;

  /** @param {import("../main.js").Edges} edges @param {Run} run as it was read from the phone, or new */
  constructor({ store, clock }, run) {
    this.store = store;
    this.clock = clock;
    this.#kept = run.step;
  }

  /** @returns {"taken"|"halted"|null} why the session must be left */
  get left() {
    return this.isTaken ? "taken" : this.isHalted ? "halted" : null;
  }

  /** @param {Run} run as it is now @returns {Promise<boolean>} whether it is stored */
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

  /** For a page that may be left in this instant. @param {Run} run */
  saveAtLast(run) {
    if (!this.isTaken) this.store.saveRunAtLast(run).catch(() => undefined);
  }

  /** Makes the early write invalid. */
  forget() {
    this.#coming = -1;
    this.#kept = -1;
  }

  /** @param {number} step @returns {boolean} whether it is stored, so that it may be shown */
  has(step) {
    return step === this.#kept;
  }

  /** @param {number} step that is shown @returns {boolean} whether a later step is stored, or its write is under way */
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

  /** Checks whether another window has taken the run, and whether what has come stops it. @param {Run} run */
  async look(run) {
    this.isTaken ||= !(await this.store.ownsRun(run).catch(() => true));
    this.isHalted ||= await this.store.snapshot().then(
      (today) => isStopped(run, today),
      () => false,
    );
  }

  /** @returns {boolean} whether it is time to write again */
  isDue() {
    return this.clock.mono() - this.#savedAt > SAVE_EVERY_MS;
  }

  /**
   * Retries until the run is stored, another window has it, or the page is left. No screen may say 'over' before that.
   * @param {Run} run
   * @param {() => void} failed called after each failure
   * @param {AbortSignal} signal
   */
  async insist(run, failed, signal) {
    while (!(await this.save(run)) && !this.isTaken && !signal.aborted) {
      failed();
      await new Promise((done) => this.clock.after(TRY_AGAIN_MS, () => done(null)));
    }
  }
}
