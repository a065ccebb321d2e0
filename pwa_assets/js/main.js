/**
 * Starts the app: builds the edges, then shows the screen that the address asks for.
 *
 * @typedef {{store: import("./edges/storage/store.js").Store, sync: import("./edges/network/sync.js").Sync,
 *   server: import("./edges/network/server.js").Server, clock: import("./edges/clock.js").Clock,
 *   words: import("./edges/screen/words.js").Words, keeper: import("./edges/storage/keeper.js").Keeper,
 *   room: import("./edges/storage/room.js").Room, tones: import("./edges/sound/tones.js").Tones,
 *   later: import("./edges/screen/later.js").Later, look: import("./edges/screen/look.js").LookEdge, naming: import("./edges/screen/naming.js").NamingEdge, wakeLock: import("./edges/screen/wake_lock.js").WakeLock, voice: import("./edges/sound/voice.js").Voice,
 *   touch: import("./edges/sound/touch.js").Touch, go(hash: string, handover?: any): void, takeHandover(): any, takeEarly(): ReturnType<import("./edges/storage/store.js").Store["page"]>|null,
 *   announce(text: string): void, adopt(joined: import("./wire.js").JoinedAs): Promise<boolean>}} Edges
 *   go: hands `handover` to the next screen, in memory; takeHandover: returns it once; takeEarly: returns once what the storage held when the app was opened, and null ever after
 */

import { createClock } from "./edges/clock.js";
import { createServer } from "./edges/network/server.js";
import { createSync } from "./edges/network/sync.js";
import { createAnnouncer } from "./edges/screen/announce.js";
import { createLater } from "./edges/screen/later.js";
import { applyLook, createLook } from "./edges/screen/look.js";
import { createNaming } from "./edges/screen/naming.js";
import { createWakeLock } from "./edges/screen/wake_lock.js";
import { createWords } from "./edges/screen/words.js";
import { createTones } from "./edges/sound/tones.js";
import { createTouch } from "./edges/sound/touch.js";
import { createVoice } from "./edges/sound/voice.js";
import { createKeeper } from "./edges/storage/keeper.js";
import { createRoom } from "./edges/storage/room.js";
import { createStore } from "./edges/storage/store.js";
import { afterPaint } from "./parts/pieces.js";
import { OPEN_TO_ALL, SCREENS } from "./screens.js";

const LONGEST_WAIT_MS = 1500;

/**
 * @param {import("./edges/clock.js").Clock} clock
 * @param {import("./edges/storage/store.js").Store} store
 * @param {import("./edges/screen/naming.js").NamingEdge} naming
 * @param {ReturnType<import("./edges/storage/store.js").Store["page"]>} early
 * @returns {Edges}
 */
function createEdges(clock, store, naming, early) {
  const server = createServer();
  /** @type {any} */
  let waiting = null;
  /** @type {typeof early|null} */
  let kept = early;
  return {
    clock,
    server,
    store,
    sync: createSync(store, clock, server, document.documentElement.lang),
    words: createWords(document, naming.nameOf),
    naming,
    keeper: createKeeper(clock),
    room: createRoom(),
    tones: createTones(),
    later: createLater(document),
    look: createLook(document),
    wakeLock: createWakeLock(document),
    voice: createVoice(clock, [...navigator.languages, document.documentElement.lang]),
    touch: createTouch(),
    announce: createAnnouncer(document, clock),
    go(hash, handover = null) {
      waiting = handover;
      location.hash = hash;
    },
    takeHandover() {
      const handover = waiting;
      waiting = null;
      return handover;
    },
    takeEarly() {
      const page = kept;
      kept = null;
      return page;
    },
    adopt: (joined) => adopt(store, joined),
  };
}

/**
 * Stores the identity that the server gave this phone. It is refused while the phone holds another client's entries.
 * @param {import("./edges/storage/store.js").Store} store
 * @param {{client: {id: string}, device: string}} joined
 * @returns {Promise<boolean>} whether the phone now belongs to that client
 */
async function adopt(store, joined) {
  const client = await store.getMeta("client");
  if (client && client !== joined.client.id) {
    await store.setMeta("link", "other_client");
    return false;
  }
  await store.setMeta("device", joined.device);
  await store.setMeta("link", "ok");
  await store.setMeta("client", joined.client.id);
  return true;
}

/**
 * Asks the server too: the cookie may have come with the app when it was installed, and then no code is needed.
 * @param {Edges} edges
 * @returns {Promise<boolean>} whether this phone belongs to a client
 */
async function isLinked({ store, server, adopt: take }) {
  if (await store.getMeta("client")) return true;
  const outcome = await server.me();
  return outcome.kind === "answer" && take(outcome.body);
}

/** @param {Edges} edges */
function createRouter(edges) {
  const root = /** @type {HTMLElement} */ (document.getElementById("page"));
  /** @type {() => void} */
  let stop = () => undefined;
  return async () => {
    const handover = edges.takeHandover();
    const [wanted] = location.hash.slice(1).split("?");
    const name = wanted in SCREENS ? wanted : "day";
    const isOpen = OPEN_TO_ALL.includes(name) || (await isLinked(edges));
    if (!isOpen) return edges.go("#join");
    // Of two screens that were asked for while this one waited, the last is shown.
    if (name !== "day" && !(await hasCome(edges.later))) return edges.go("#day");
    if (!location.hash.slice(1).startsWith(wanted)) return;
    stop();
    stop = SCREENS[name].start(root, edges, handover);
    document.body.dataset.screen = name;
    markWays(name);
    document.title = edges.words.fill("title", { page: edges.words.say(`title.${name}`) });
    scrollTo(0, 0);
    root.querySelector("h1")?.focus({ preventScroll: true });
  };
}

/** @param {import("./edges/screen/later.js").Later} later @returns {Promise<boolean>} whether the templates of all screens are here */
async function hasCome(later) {
  const isHere = await later.whole().then(
    () => true,
    () => false,
  );
  /** @type {HTMLElement} */ (document.querySelector('[data-trouble="later"]')).hidden = isHere;
  return isHere;
}

/** @param {string} name */
function markWays(name) {
  for (const way of document.querySelectorAll("body > nav a")) {
    way.toggleAttribute("aria-current", way.getAttribute("href") === `#${name}`);
    if (way.hasAttribute("aria-current")) way.setAttribute("aria-current", "page");
  }
}

/**
 * The day is shown before anything else takes the phone's time, such as the first talk with the server.
 * @returns {Promise<void>} resolved once the day page is painted, or after a second and a half where another page is open
 */
function firstPage() {
  const root = /** @type {HTMLElement} */ (document.getElementById("page"));
  return new Promise((resolve) => {
    const done = () => {
      watcher.disconnect();
      clearTimeout(handle);
      afterPaint(resolve);
    };
    const watcher = new MutationObserver(() => root.hasAttribute("data-drawn") && done());
    watcher.observe(root, { attributes: true });
    const handle = setTimeout(done, LONGEST_WAIT_MS);
    if (root.hasAttribute("data-drawn")) done();
  });
}

/** The storage is read at once; the rest of the page, with all words and pieces, is parsed meanwhile. */
async function boot() {
  applyLook(document);
  const clock = createClock();
  const naming = createNaming(document.documentElement.lang);
  const store = createStore(clock, () => showTrouble("blocked"), naming);
  const early = store.page();
  early.catch(() => undefined);
  await parsed();
  // The sheet may have come only now.
  applyLook(document);
  const edges = createEdges(clock, store, naming, early);
  const always = new AbortController().signal;
  const show = createRouter(edges);
  addEventListener("hashchange", () => void show(), { signal: always });
  await show();
  // No later page may be drawn from it.
  edges.takeEarly();
  document.documentElement.setAttribute("data-ready", "1");
  await firstPage();
  edges.later.whole().catch(() => undefined);
  edges.sync.start(always);
  void edges.keeper.start(always);
  void edges.room.askToKeep();
  edges.words.prepareDays(edges.clock.today());
}

/** @returns {Promise<unknown>} resolved once the whole page is parsed */
function parsed() {
  if (document.readyState !== "loading") return Promise.resolve();
  return new Promise((resolve) => document.addEventListener("DOMContentLoaded", resolve, { once: true }));
}

/** @param {"blocked"|"storage"} trouble */
function showTrouble(trouble) {
  document.querySelector(`[data-trouble="${trouble}"]`)?.removeAttribute("hidden");
}

boot().catch(() => parsed().then(() => showTrouble("storage")));
