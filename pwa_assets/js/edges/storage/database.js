/**
 * The phone's database: it opens, migrates and runs transactions, whose promises resolve once they are complete.
 * `work` must await nothing but database requests: otherwise the transaction closes by itself.
 *
 * @typedef {{read<T>(stores: string[], work: (tx: IDBTransaction) => Promise<T>|T): Promise<T>,
 *   write<T>(stores: string[], work: (tx: IDBTransaction) => Promise<T>|T): Promise<T>,
 *   erase(): Promise<void>}} Database
 */

const NAME = "halfturn";

/** Each migration only adds; older code must still be able to open a newer database. */
const MIGRATIONS = [
  (/** @type {IDBDatabase} */ db, /** @type {IDBTransaction} */ _tx) => {
    const events = db.createObjectStore("events", { keyPath: "row", autoIncrement: true });
    events.createIndex("id", "id", { unique: true });
    events.createIndex("state", "state");
    db.createObjectStore("meta");
    db.createObjectStore("bundles", { keyPath: "hash" });
    db.createObjectStore("run");
  },
  (/** @type {IDBDatabase} */ _db, /** @type {IDBTransaction} */ tx) => {
    const events = tx.objectStore("events");
    events.createIndex("kind", ["event.kind", "event.on"]);
    events.createIndex("replaces", "event.body.replaces");
    events.createIndex("isSharp", "isSharp");
    // Mark every older row as sharp: then it is always read, and no row is missed.
    change(events, (row) => ({ ...row, isSharp: 1 }));
    change(tx.objectStore("bundles"), (bundle) => ({ hash: bundle.hash, json: JSON.stringify(bundle) }));
  },
];

/**
 * Replaces every row of a store.
 * @param {IDBObjectStore} store
 * @param {(row: any) => object} changed
 */
function change(store, changed) {
  const request = store.openCursor();
  request.onsuccess = () => {
    const cursor = request.result;
    if (!cursor) return;
    cursor.update(changed(cursor.value));
    cursor.continue();
  };
}

/**
 * @param {() => void} onBlocked called where another window keeps an older database open
 * @returns {Database}
 */
export function createDatabase(onBlocked) {
  /** @type {Promise<IDBDatabase>|null} */
  let handle = null;
  const drop = () => {
    handle = null;
  };
  const get = () => {
    handle ??= open(onBlocked).then((db) => watch(db, drop));
    handle.catch(drop);
    return handle;
  };
  /** @param {(db: IDBDatabase) => Promise<any>} use */
  const withDb = async (use) => {
    try {
      return await use(await get());
    } catch (error) {
      if (!isLost(error)) throw error;
      drop();
      return use(await get());
    }
  };
  return {
    read: (stores, work) => withDb((db) => transact(db.transaction(stores, "readonly"), work)),
    write: (stores, work) =>
      withDb((db) => transact(db.transaction(stores, "readwrite", { durability: "strict" }), work)),
    async erase() {
      (await get()).close();
      drop();
      await settled(indexedDB.deleteDatabase(NAME));
    },
  };
}

/**
 * @template T
 * @param {IDBRequest<T>} request
 * @returns {Promise<T>}
 */
export function settled(request) {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
}

/**
 * @param {() => void} onBlocked
 * @returns {Promise<IDBDatabase>}
 */
async function open(onBlocked) {
  const request = indexedDB.open(NAME, MIGRATIONS.length);
  request.onblocked = onBlocked;
  request.onupgradeneeded = (change) => {
    const tx = /** @type {IDBTransaction} */ (request.transaction);
    for (const migrate of MIGRATIONS.slice(change.oldVersion)) migrate(request.result, tx);
  };
  return settled(request).catch((error) => {
    if (error?.name !== "VersionError") throw error;
    return settled(indexedDB.open(NAME));
  });
}

/**
 * @param {IDBDatabase} db
 * @param {() => void} drop
 */
function watch(db, drop) {
  db.onclose = drop;
  db.onversionchange = () => {
    db.close();
    drop();
  };
  return db;
}

/**
 * @template T
 * @param {IDBTransaction} tx
 * @param {(tx: IDBTransaction) => Promise<T>|T} work
 * @returns {Promise<T>} resolved after the transaction is complete
 */
async function transact(tx, work) {
  const over = new Promise((resolve, reject) => {
    tx.oncomplete = () => resolve(undefined);
    tx.onabort = () => reject(tx.error ?? new DOMException("transaction aborted", "AbortError"));
  });
  over.catch(() => undefined);
  try {
    const result = await work(tx);
    if (tx.mode === "readwrite") finish(tx, "commit");
    await over;
    return result;
  } catch (error) {
    if (tx.error === null) finish(tx, "abort");
    throw error;
  }
}

/**
 * Ends a transaction now. A commit that was requested is finished even if the page is left in the next instant.
 * @param {IDBTransaction} tx
 * @param {"commit"|"abort"} how
 */
function finish(tx, how) {
  try {
    tx[how]();
  } catch {
    // The transaction is over already.
  }
}

/** Whether the connection was lost: some browsers close it in the background. @param {any} error */
function isLost(error) {
  return ["InvalidStateError", "UnknownError"].includes(error?.name) || /connection/i.test(error?.message ?? "");
}
