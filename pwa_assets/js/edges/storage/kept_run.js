/**
 * The stored run: at most one. It is written before its next step is shown, and only the window that took it last may write it.
 *
 * @typedef {import("../../pure/session/run.js").Run} Run
 */

import { finishedBody, TakenError, withoutStop } from "../../pure/session/run.js";
import { settled } from "./database.js";
import { append, rowOf } from "./journal.js";

/** The owner of the run is the window that wrote it last. */
function createOwner() {
  const me = crypto.randomUUID();
  /** The run that this window wrote last. */
  let mine = "";
  /** @param {any} kept @param {Run} run */
  const isOurs = (kept, run) => (kept ? kept.by === me : run.id !== mine);
  /** @param {IDBTransaction} tx @returns {Promise<any>} */
  const keptIn = async (tx) => (await settled(tx.objectStore("run").get("run"))) ?? null;
  /** @param {IDBTransaction} tx @param {Run} run */
  const put = (tx, run) => {
    mine = run.id;
    tx.objectStore("run").put({ ...run, by: me }, "run");
  };
  /** @param {IDBTransaction} tx @param {Run} run */
  const putOurs = async (tx, run) => {
    if (!isOurs(await keptIn(tx), run)) throw new TakenError();
    put(tx, run);
  };
  /** @param {IDBTransaction} tx */
  const clear = async (tx) => {
    if ((await keptIn(tx))?.by === me) tx.objectStore("run").delete("run");
  };
  return { isOurs, keptIn, put, putOurs, clear };
}

/**
 * @param {import("./database.js").Database} db
 * @param {import("../notice.js").Notice} notice
 * @param {{draft: import("./store.js").Drafting, newId(): string, said(): void}} log
 */
export function keptRunOf(db, notice, { draft, newId, said }) {
  const { isOurs, keptIn, put, putOurs, clear } = createOwner();
  const loadRun = () => db.read(["run"], keptIn);
  /** @param {IDBTransaction} tx @param {Run} run @param {string} id */
  const log = (tx, run, id) => append(tx, draft({ id, kind: "session_finished", on: run.on, body: finishedBody(run) }));
  return {
    loadRun,
    /** Makes this window the owner of the run, if there is one; from now on a write by another window fails. */
    async takeRun() {
      const kept = await db.write(["run"], async (tx) => {
        const run = await keptIn(tx);
        if (run) put(tx, run);
        return run;
      });
      if (kept) notice.tell();
      return kept;
    },
    /** @param {Run} run new, or taken by this window @returns {Promise<boolean>} whether this window is still its owner */
    ownsRun: async (run) => isOurs(await loadRun(), run),
    /** Rejects with a TakenError where another window has taken or ended the run. @param {Run} run new, or taken by this window */
    saveRun: (run) => db.write(["run"], (tx) => putOurs(tx, run)),
    /** Writes without a read before, so that the write is finished even if the page is left now. @param {Run} run that this window plays */
    saveRunAtLast: (run) => db.write(["run"], (tx) => put(tx, run)),
    async clearRun() {
      await db.write(["run"], clear);
      notice.tell();
    },
    /** Moves a run that is over into the log, in one transaction; rejects with a TakenError as `saveRun` does. @param {Run} run */
    async finishRun(run) {
      await db.write(["events", "meta", "run"], async (tx) => {
        await putOurs(tx, run);
        await log(tx, run, run.id);
        await clear(tx);
      });
      said();
    },
    ...stopsOf(db, { isOurs, keptIn, put }, { draft, log, newId, said }),
  };
}

/**
 * A stop for sharp pain, and how to undo a stop that was pressed by mistake.
 * @param {import("./database.js").Database} db
 * @param {Pick<ReturnType<typeof createOwner>, "isOurs"|"keptIn"|"put">} owner
 * @param {{draft: import("./store.js").Drafting, log(tx: IDBTransaction, run: Run, id: string): Promise<any>, newId(): string,
 *   said(): void}} book
 */
function stopsOf(db, { isOurs, keptIn, put }, { draft, log, newId, said }) {
  return {
    /**
     * Logs a run that sharp pain ended, even if another window owns it. The run stays stored until its questions are answered.
     * If another window has logged the same run, both entries stay.
     * @param {Run} run
     * @returns {Promise<Run>} the run with the id of its entry
     */
    async stopRun(run) {
      if (run.entry) return run;
      const stopped = await db.write(["events", "meta", "run"], async (tx) => {
        const entry = (await rowOf(tx, run.id)) ? newId() : run.id;
        await log(tx, run, entry);
        put(tx, { ...run, entry });
        return { ...run, entry };
      });
      said();
      return stopped;
    },
    /**
     * Undoes a stop that was pressed by mistake: withdraws its entry and opens the run where it was. The run gets a new id, so
     * that a release which covers the withdrawn stop does not cover the entry that the run makes later.
     * Rejects with a TakenError where another window has taken or ended the run.
     * @param {Run} run as `stopRun` returned it
     */
    async takeBackStop(run) {
      const body = { replaces: /** @type {string} */ (run.entry), body: null };
      await db.write(["events", "meta", "run"], async (tx) => {
        if (!isOurs(await keptIn(tx), run)) throw new TakenError();
        await append(tx, draft({ kind: "entry_corrected", on: run.on, body }));
        put(tx, { ...withoutStop(run), id: newId() });
      });
      said();
    },
  };
}
