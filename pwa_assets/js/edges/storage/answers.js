/**
 * Stores the server's replies. Each reply and the cursor that it brings are stored in one transaction.
 */

import { settled } from "./database.js";
import { append, markAllWaiting, markResults, merge } from "./journal.js";

/**
 * @param {import("./database.js").Database} db
 * @param {import("../notice.js").Notice} notice
 * @param {import("./store.js").Drafting} draft
 */
export function answersOf(db, notice, draft) {
  return {
    /** @param {import("../../wire.js").Reply} reply of the expected shape @param {string} today @param {number} at ms */
    async takeReply(reply, today, at) {
      await db.write(["events", "meta", "bundles"], async (tx) => {
        await markResults(tx, reply.results, at);
        await merge(tx, reply.events, await settled(tx.objectStore("meta").get("client")));
        await takeRoutine(tx, reply, today, draft);
        const { cursor, epoch, practitioner, start } = reply;
        const news = { cursor, epoch, practitioner, start, lastSyncAt: at, link: "ok" };
        for (const [key, value] of Object.entries(news)) tx.objectStore("meta").put(value, key);
      });
      notice.tell();
    },
    /** @param {string} epoch */
    async startOver(epoch) {
      await db.write(["events", "meta"], async (tx) => {
        await markAllWaiting(tx);
        tx.objectStore("meta").put(0, "cursor");
        tx.objectStore("meta").put(epoch, "epoch");
      });
      notice.tell();
    },
  };
}

/**
 * Stores a new bundle and its anchors. A routine counts from the day on which it came; a session that runs keeps its own plan.
 * @param {IDBTransaction} tx
 * @param {import("../../wire.js").Reply} reply
 * @param {string} today
 * @param {import("./store.js").Drafting} draft
 */
async function takeRoutine(tx, reply, today, draft) {
  const meta = tx.objectStore("meta");
  const [held, received] = await Promise.all([settled(meta.get("bundleHash")), settled(meta.get("receivedVersion"))]);
  if (reply.bundle) {
    // As text: reading it back is several times faster so than as an object.
    tx.objectStore("bundles").put({ hash: reply.bundle.hash, json: JSON.stringify(reply.bundle) });
    meta.put(reply.bundle.hash, "bundleHash");
    const { version } = reply.bundle.routine;
    if (version !== received) {
      meta.put(version, "receivedVersion");
      await append(tx, draft({ kind: "routine_received", on: today, body: { version, bundle: reply.bundle.hash } }));
    }
  }
  if (reply.anchors && reply.bundle_hash === (reply.bundle?.hash ?? held)) meta.put(reply.anchors, "anchors");
}
