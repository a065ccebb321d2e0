/**
 * Starts a sync when an entry is made, when the page is shown and when the network is back; retries by itself.
 * One window syncs at a time. The lock only saves work: a sync stays correct without it, since the server ignores copies.
 *
 * @typedef {import("./exchange.js").Phase} Phase
 * @typedef {{phase: Phase, message: string, failures: number, isAskedAgain: boolean, cancel(): void}} State
 */

import { waitBeforeRetry } from "../../pure/sync/backoff.js";
import { createNotice } from "../notice.js";
import { exchange } from "./exchange.js";

const LOCK = "halfturn-sync";

/**
 * @param {import("../storage/store.js").Store} store
 * @param {import("../clock.js").Clock} clock
 * @param {import("./server.js").Server} server
 * @param {string} locale
 */
export function createSync(store, clock, server, locale) {
  const notice = createNotice("halfturn-sync");
  /** @type {State} */
  const state = { phase: "idle", message: "", failures: 0, isAskedAgain: false, cancel: () => undefined };
  /** @param {Phase} phase @param {string} [message] */
  const enter = (phase, message = "") => {
    Object.assign(state, { phase, message });
    notice.tell();
  };
  const attempt = async (tag = locale) => {
    state.cancel();
    if (!(await store.getMeta("client"))) return false;
    enter("busy");
    const end = await exchange(store, clock, server, tag);
    state.failures = end.phase === "waiting" ? state.failures + 1 : 0;
    if (end.phase === "waiting") {
      const wait = waitBeforeRetry(state.failures, chance(), end.waitSeconds);
      state.cancel = clock.after(wait, () => void underLock(state, () => attempt()));
    }
    enter(end.phase, end.message);
    return end.phase === "idle";
  };
  const now = () => underLock(Object.assign(state, { failures: 0 }), () => attempt());
  return {
    now,
    /** Sends what waits, and fetches the routine in another language. @param {string} tag @returns {Promise<boolean>} */
    inLanguage: (tag) => navigator.locks.request(LOCK, () => attempt(tag)),
    phase: () => state.phase,
    message: () => state.message,
    onChange: notice.listen,
    /** @param {AbortSignal} signal */
    start(signal) {
      store.onEntry(() => void now());
      wakeOn(now, signal);
      void now();
    },
  };
}

/** @typedef {ReturnType<typeof createSync>} Sync */

/**
 * Makes one window sync at a time. If this window is asked again meanwhile, it syncs once more afterwards.
 * @param {State} state
 * @param {() => Promise<boolean>} attempt
 * @returns {Promise<boolean>} whether everything is sent and fetched
 */
function underLock(state, attempt) {
  return navigator.locks.request(LOCK, { ifAvailable: true }, async (lock) => {
    state.isAskedAgain = !lock;
    let isDone = lock !== null && (await attempt());
    while (isDone && state.isAskedAgain) {
      state.isAskedAgain = false;
      isDone = await attempt();
    }
    return isDone;
  });
}

/**
 * @param {() => Promise<boolean>} now
 * @param {AbortSignal} signal
 */
function wakeOn(now, signal) {
  const ifVisible = () => document.visibilityState === "visible" && void now();
  addEventListener("online", () => void now(), { signal });
  addEventListener("pageshow", ifVisible, { signal });
  document.addEventListener("visibilitychange", ifVisible, { signal });
}

function chance() {
  return crypto.getRandomValues(new Uint32Array(1))[0] / 2 ** 32;
}
