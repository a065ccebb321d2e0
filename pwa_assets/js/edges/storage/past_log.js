/**
 * Older parts of the log, read only when a page about the past opens: the entries about some days, and those that count for good.
 */

import { settled } from "./database.js";
import { FOR_GOOD, FOR_GOOD_WITH_FIXES, withFixes } from "./near_log.js";

/** Told after the days that they are about. */
const TOLD_LATER = ["away_noted"];
const OF_A_DAY = ["session_finished", "morning_reported", "exposure_noted"];

/** @param {import("./database.js").Database} db */
export function pastLogOf(db) {
  /** @param {(byKind: IDBIndex, store: IDBObjectStore) => Promise<import("./journal.js").Row[]>} work */
  const read = (work) =>
    db.read(["events"], async (tx) => {
      const store = tx.objectStore("events");
      const rows = await work(store.index("kind"), store);
      return rows.map(({ event }) => event);
    });
  return {
    /** @returns {Promise<import("./journal.js").Event[]>} routines, releases, warnings and absences of all days, and all that a release must cover */
    lasting: () =>
      read(async (byKind, store) => {
        const kinds = [...FOR_GOOD, ...FOR_GOOD_WITH_FIXES, ...TOLD_LATER];
        const all = kinds.map((kind) => settled(byKind.getAll(IDBKeyRange.bound([kind, ""], [kind, []]))));
        return withFixes(store, (await Promise.all([...all, settled(store.index("isSharp").getAll())])).flat());
      }),
    /** @param {string} from @param {string} to @returns {Promise<import("./journal.js").Event[]>} with the corrections of each, whenever they were made */
    about: (from, to) =>
      read(async (byKind, store) => {
        const all = OF_A_DAY.map((kind) => settled(byKind.getAll(IDBKeyRange.bound([kind, from], [kind, to]))));
        return withFixes(store, (await Promise.all(all)).flat());
      }),
  };
}
