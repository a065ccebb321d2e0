/**
 * The run that is on: one at most, written before its next step is shown, and by one window only, the one that took it last.
 *
 * @typedef {import("../../pure/session/run.js").Run} Run
 */

import { finishedBody, TakenError, withoutStop } from "../../pure/session/run.js";
import { settled } from "./database.js";
import { append, rowOf } from "./journal.js";

/** Whose the run is: the window that wrote it last. */
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
    /** Takes the run that is on, if any, for this window; what another window writes of it fails from now on. */
    async takeRun() {
      const kept = await db.write(["run"], async (tx) => {
        const run = await keptIn(tx);
        if (run) put(tx, run);
        return run;
      });
      if (kept) notice.tell();
      return kept;
    },
    /** @param {Run} run that this window is about to begin, or has taken @returns {Promise<boolean>} */
    ownsRun: async (run) => isOurs(await loadRun(), run),
    /** @param {Run} run new, or taken; rejects with a TakenError where another window has taken it since, or ended it */
    saveRun: (run) => db.write(["run"], (tx) => putOurs(tx, run)),
    /** Asked for at once, so that it outlives a page that is left in this instant. @param {Run} run that this window plays */
    saveRunAtLast: (run) => db.write(["run"], (tx) => put(tx, run)),
    async clearRun() {
      await db.write(["run"], clear);
      notice.tell();
    },
    /** Into the log and away, both or neither; rejects with a TakenError as `saveRun` does. @param {Run} run that is over */
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
 * A stop for sharp pain, and the way back from one that was pressed by mistake.
 * @param {import("./database.js").Database} db
 * @param {Pick<ReturnType<typeof createOwner>, "isOurs"|"keptIn"|"put">} owner
 * @param {{draft: import("./store.js").Drafting, log(tx: IDBTransaction, run: Run, id: string): Promise<any>, newId(): string,
 *   said(): void}} book
 */
function stopsOf(db, { isOurs, keptIn, put }, { draft, log, newId, said }) {
  return {
    /**
     * Puts a run that sharp pain ended into the log, whichever window has it, and keeps it until its questions are answered.
     * What another window logged of the same run stays beside it.
     * @param {Run} run
     * @returns {Promise<Run>} with the id of its entry
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
     * Takes a stop back that was pressed by mistake: its entry is withdrawn, and the run is open where it was. The entry that
     * the run makes later has an id of its own, so that no release which knew of the stop covers it.
     * @param {Run} run as `stopRun` gave it; rejects with a TakenError where another window has taken it since, or ended it
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
