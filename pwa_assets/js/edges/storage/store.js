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
 * @typedef {Pick<import("../screen/naming.js").NamingEdge, "unit"|"said">} Said
 */

import { startOf } from "../../pure/arriving/start.js";
import { addDays } from "../../pure/calendar/local_day.js";
import { waitOf } from "../../pure/dose/between_sessions.js";
import { courseToday } from "../../pure/dose/set_course.js";
import { armDays, planOf } from "../../pure/dose/today.js";
import { uuid7 } from "../../pure/sync/uuid7.js";
import { createNotice } from "../notice.js";
import { answersOf } from "./answers.js";
import { createDatabase, settled } from "./database.js";
import { append } from "./journal.js";
import { keptRunOf } from "./kept_run.js";
import { letterBoxOf } from "./letter_box.js";
import { nearLog } from "./near_log.js";
import { pastLogOf } from "./past_log.js";

/** The day before an anchor is classed with the mornings of the three days before it; each morning is about its previous day. */
const DAYS_BEFORE = 4;
/** With these, a week of habits is read. */
const DAYS_SHOWN = 3;
/** @type {Said} */
const AS_STORED = { unit: () => "own", said: (bundle) => bundle };

/**
 * @param {import("../clock.js").Clock} clock
 * @param {() => void} onBlocked
 * @param {Said} [naming] how bundles that are read name their weights
 */
export function createStore(clock, onBlocked, naming = AS_STORED) {
  const db = createDatabase(onBlocked);
  const notice = createNotice("halfturn-store");
  const log = logOf(db, clock, notice);
  const bundles = bundlesOf(db, naming);
  const store = {
    ...metaOf(db, notice, bundles.read),
    ...keptRunOf(db, notice, log),
    ...log,
    ...pastLogOf(db),
    ...letterBoxOf(db, notice, log),
    ...answersOf(db, notice, log.draft),
    onChange: notice.listen,
    erase: async () => {
      await db.erase();
      notice.tell();
    },
    /** Today, and the entries that it is computed from: those of the last days, and older ones that still count. */
    snapshot: async () => (await store.page()).snapshot,
    page: () => readPage(db, bundles, clock),
    async todayPlan() {
      const { today, bundle, days } = await store.snapshot();
      return bundle ? planOf(bundle, days, today) : null;
    },
  };
  return store;
}

/**
 * What a page is drawn from, all of one instant, since it is read in one transaction: the snapshot, the entries that wait to be
 * sent, and everything that is noted by a key.
 * @param {import("./database.js").Database} db
 * @param {ReturnType<typeof bundlesOf>} bundles
 * @param {import("../clock.js").Clock} clock
 */
async function readPage(db, bundles, clock) {
  const [today, now] = [clock.today(), clock.now()];
  const read = await db.read(["meta", "run", "bundles", "events"], async (tx) => {
    const [keys, values, run, unsent] = await Promise.all([
      settled(tx.objectStore("meta").getAllKeys()),
      settled(tx.objectStore("meta").getAll()),
      settled(tx.objectStore("run").get("run")),
      settled(tx.objectStore("events").index("state").getAll("waiting")),
    ]);
    const meta = Object.fromEntries(keys.map((key, at) => [String(key), values[at]]));
    const from = addDays(
      [...Object.values(anchorsOf(meta)).map(({ on }) => on), addDays(today, -DAYS_SHOWN)].sort()[0],
      -DAYS_BEFORE,
    );
    const [bundle, events] = await Promise.all([bundles.inside(tx, meta.bundleHash), nearLog(tx, from)]);
    return { bundle, meta, run: run ?? null, events, unsent };
  });
  const { bundle, meta, run, events, unsent } = read;
  const anchors = anchorsOf(meta);
  const time = { now, hourOn: clock.hourOn };
  const found = bundle ? armDays(bundle, anchors, events, today) : [];
  const course = courseToday(bundle, events, today, found);
  const isEnded = course.to === "ended";
  const asksNothing = isEnded || course.to === "rest";
  const begin = startOf(bundle, events, meta.start);
  const start = isEnded ? { ...begin, waitsFor: /** @type {const} */ ("nothing") } : begin;
  const days = found.map((day) => ({
    ...day,
    isOffered: day.isOffered && start.waitsFor === "nothing" && !asksNothing,
    wait: waitOf(bundle, events, day, today, time),
  }));
  return { snapshot: { today, now, bundle, anchors, events, run, days, start, course }, meta, unsent };
}

/** @typedef {ReturnType<typeof createStore>} Store */

/** @param {Record<string, any>} meta @returns {Record<string, import("../../pure/dose/course.js").Anchor>} */
const anchorsOf = (meta) => meta.anchors ?? {};

/**
 * The bundle that was read last is kept in memory: a bundle never changes under its hash.
 * @param {import("./database.js").Database} db
 * @param {Said} naming
 */
function bundlesOf(db, naming) {
  /** @type {{hash: string, unit: string, bundle: Bundle|null}} */
  let held = { hash: "", unit: "", bundle: null };
  const isHeld = (/** @type {string|undefined} */ hash) => held.hash === hash && held.unit === naming.unit();
  /** Inside a transaction over bundles. @param {IDBTransaction} tx @param {string|undefined} hash */
  const inside = async (tx, hash) => {
    if (!hash) return /** @type {any} */ (null);
    if (isHeld(hash)) return /** @type {Bundle} */ (held.bundle);
    const row = await settled(tx.objectStore("bundles").get(hash));
    if (row) held = { hash, unit: naming.unit(), bundle: naming.said(JSON.parse(row.json)) };
    return /** @type {Bundle} */ (row ? held.bundle : null);
  };
  /** @param {string|undefined} hash */
  const read = async (hash) => (isHeld(hash) ? held.bundle : db.read(["bundles"], (tx) => inside(tx, hash)));
  return { inside, read };
}

/**
 * @param {import("./database.js").Database} db
 * @param {import("../notice.js").Notice} notice
 * @param {(hash: string|undefined) => Promise<Bundle|null>} bundleOf
 */
function metaOf(db, notice, bundleOf) {
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
      return /** @type {Bundle} */ (await bundleOf(hash));
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
