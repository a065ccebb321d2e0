/**
 * Keeps the run on the phone while it is played, and knows whether the last writing succeeded.
 *
 * @typedef {import("../pure/run.js").Run} Run
 */

const SAVE_EVERY_MS = 5000;
const TRY_AGAIN_MS = 1000;

export class RunKeeper {
  #savedAt = 0;
  isUnsaved = false;

  /** @param {import("../main.js").Edges} edges */
  constructor({ store, clock }) {
    this.store = store;
    this.clock = clock;
  }

  /** @param {Run} run @returns {Promise<boolean>} whether it is on the phone */
  async save(run) {
    this.#savedAt = this.clock.mono();
    this.isUnsaved = !(await this.store.saveRun(run).then(
      () => true,
      () => false,
    ));
    return !this.isUnsaved;
  }

  /** @returns {boolean} whether it is time to write again */
  isDue() {
    return this.clock.mono() - this.#savedAt > SAVE_EVERY_MS;
  }

  /**
   * Writes until it succeeds: nothing may say that a session is over before.
   * @param {Run} run
   * @param {() => void} failed called after each time it did not
   */
  async insist(run, failed) {
    while (!(await this.save(run))) {
      failed();
      await new Promise((done) => this.clock.after(TRY_AGAIN_MS, () => done(null)));
    }
  }
}
