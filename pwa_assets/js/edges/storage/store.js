/**
 * What the phone stores: the log, the bundle, the anchors and the run, in the phone's own database.
 * The promise of a write resolves once its transaction is complete and flushed to disk.
 *
 * @typedef {import("../../pure/dose/daybook.js").Event} Event
 * @typedef {import("../../wire.js").Bundle} Bundle
 * @typedef {{[K in Event["kind"]]: Pick<Extract<Event, {kind: K}>, "kind"|"on"|"body"> & {id?: string}}[Event["kind"]]} Draft
 *   id: makes a retry idempotent; without it the entry gets a new one
 * @typedef {import("./journal.js").Unnumbered} Unnumbered
 * @typedef {(draft: Draft) => Unnumbered} Drafting
 */

import { addDays } from "../../pure/calendar/local_day.js";
import { armDays, planOf } from "../../pure/dose/today.js";
import { uuid7 } from "../../pure/sync/uuid7.js";
import { createNotice } from "../notice.js";
import { answersOf } from "./answers.js";
import { createDatabase, settled } from "./database.js";
import { append } from "./journal.js";
import { keptRunOf } from "./kept_run.js";
import { nearLog } from "./near_log.js";

/** The day before an anchor is classed with the mornings of the three days before it; each morning is about its previous day. */
const DAYS_BEFORE = 4;

/**
 * @param {import("../clock.js").Clock} clock
 * @param {() => void} onBlocked
 */
export function createStore(clock, onBlocked) {
  const db = createDatabase(onBlocked);
  const notice = createNotice("halfturn-store");
  const log = logOf(db, clock, notice);
  const store = {
    ...metaOf(db, notice),
    ...keptRunOf(db, notice, log),
    ...log,
    ...answersOf(db, notice, log.draft),
    onChange: notice.listen,
    erase: async () => {
      await db.erase();
      notice.tell();
    },
    /** Today, and the entries that it is computed from: those of the last days, and older ones that still count. */
    async snapshot() {
      const today = clock.today();
      const reads = /** @type {const} */ ([store.bundle(), store.anchors(), store.loadRun()]);
      const [bundle, anchors, run] = await Promise.all(reads);
      const from = addDays([...Object.values(anchors).map(({ on }) => on), today].sort()[0], -DAYS_BEFORE);
      const events = await db.read(["events"], (tx) => nearLog(tx, from));
      const days = bundle ? armDays(bundle, anchors, events, today) : [];
      return { today, bundle, anchors, events, run, days };
    },
    async todayPlan() {
      const { today, bundle, days } = await store.snapshot();
      return bundle ? planOf(bundle, days, today) : null;
    },
  };
  return store;
}

/** @typedef {ReturnType<typeof createStore>} Store */

/**
 * @param {import("./database.js").Database} db
 * @returns {(hash: string) => Promise<Bundle|null>} reads a bundle; the last one is read from storage once only
 */
function bundlesOf(db) {
  /** The bundle that was read last, or is being read: a bundle never changes under its hash. */
  const held = { hash: "", bundle: /** @type {Promise<Bundle|null>} */ (Promise.resolve(null)) };
  /** @param {string} hash */
  const readBundle = async (hash) => {
    const row = await db.read(["bundles"], (tx) => settled(tx.objectStore("bundles").get(hash)));
    if (!row) held.hash = "";
    return row ? /** @type {Bundle} */ (JSON.parse(row.json)) : null;
  };
  /** @param {string} hash */
  return (hash) => {
    if (held.hash !== hash) {
      const bundle = readBundle(hash);
      Object.assign(held, { hash, bundle });
      bundle.catch(() => Object.assign(held, { hash: "" }));
    }
    return held.bundle;
  };
}

/**
 * @param {import("./database.js").Database} db
 * @param {import("../notice.js").Notice} notice
 */
function metaOf(db, notice) {
  const bundleOf = bundlesOf(db);
  /** @param {string} key */
  const getMeta = (key) => db.read(["meta"], (tx) => settled(tx.objectStore("meta").get(key)));
  return {
    getMeta,
    /** @param {string} key @param {any} value */
    async setMeta(key, value) {
      await db.write(["meta"], (tx) => void tx.objectStore("meta").put(value, key));
      notice.tell();
    },
    /**
     * @param {string} [other] the hash of another bundle than the one in force
     * @returns {Promise<Bundle>} null before the first routine has come: no part of a page that reads it is drawn then
     */
    async bundle(other) {
      const hash = other ?? (await getMeta("bundleHash"));
      return /** @type {Bundle} */ (hash ? await bundleOf(hash) : null);
    },
    /** @returns {Promise<Record<string, import("../../pure/dose/course.js").Anchor>>} */
    async anchors() {
      return (await getMeta("anchors")) ?? {};
    },
  };
}

/**
 * @param {import("./database.js").Database} db
 * @param {import("../clock.js").Clock} clock
 * @param {import("../notice.js").Notice} notice
 */
function logOf(db, clock, notice) {
  const newId = () => uuid7(clock.now(), crypto.getRandomValues(new Uint8Array(10)));
  /** @type {Drafting} */
  const draft = ({ kind, on, body, id = newId() }) => {
    const at = new Date(clock.now()).toISOString();
    return /** @type {Unnumbered} */ ({ id, kind, v: 1, on, at, zone: clock.zone(), body });
  };
  /** @returns {Promise<import("./journal.js").Row[]>} */
  const rows = () => db.read(["events"], (tx) => settled(tx.objectStore("events").getAll()));
  /** @type {Set<() => void>} */
  const listeners = new Set();
  const said = () => {
    notice.tell();
    for (const hear of listeners) hear();
  };
  return {
    draft,
    newId,
    said,
    rows,
    /** Appends all of them or, if the storage fails, none. @param {Draft[]} drafts */
    async addEvents(...drafts) {
      const entries = drafts.map(draft);
      await db.write(["events", "meta"], async (tx) => {
        for (const each of entries) await append(tx, each);
      });
      said();
    },
    /** @param {() => void} hear called once an entry of this window is stored */
    onEntry: (hear) => void listeners.add(hear),
    events: async () => (await rows()).map((row) => row.event),
    /** @returns {Promise<import("./journal.js").Row[]>} */
    unsent: () => db.read(["events"], (tx) => settled(tx.objectStore("events").index("state").getAll("waiting"))),
    /** @returns {Promise<import("./journal.js").Row[]>} */
    refused: () => db.read(["events"], (tx) => settled(tx.objectStore("events").index("state").getAll("refused"))),
  };
}
