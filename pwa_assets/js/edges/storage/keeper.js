/**
 * The page's dealings with the service worker that keeps the app: registering, looking for a newer build, changing over,
 * and asking whether all of it is kept. A newer build waits until the page asks for it, which it does not while a session runs.
 */

import { waitBeforeRetry } from "../../pure/sync/backoff.js";
import { createNotice } from "../notice.js";

const WORKER = "/app/service_worker.js";
const SCOPE = "/app/";
const ENDED = ["activated", "redundant"];

/** @typedef {ReturnType<typeof createKeeper>} Keeper */

/** @param {import("../clock.js").Clock} clock */
export function createKeeper(clock) {
  const notice = createNotice("halfturn-keeper");
  const { held, keep } = keeping(clock, notice.tell);
  let isLeaving = false;
  const look = () => {
    if (document.visibilityState !== "visible") return;
    held.registration?.update().catch(() => undefined);
    void keep();
  };
  return {
    isNewerWaiting: () => Boolean(held.registration?.waiting && navigator.serviceWorker.controller),
    /** Whether the app would start without a network; null while nobody knows. */
    isKept: () => held.isKept,
    onChange: notice.listen,
    useNewer() {
      isLeaving = true;
      held.registration?.waiting?.postMessage("skip_waiting");
    },
    /** @param {AbortSignal} signal */
    async start(signal) {
      if (!("serviceWorker" in navigator)) return;
      navigator.serviceWorker.addEventListener("controllerchange", () => isLeaving && location.reload(), { signal });
      for (const sign of ["pageshow", "focus", "online"]) addEventListener(sign, look, { signal });
      document.addEventListener("visibilitychange", look, { signal });
      await keep();
      notice.tell();
    },
  };
}

/**
 * Registering the worker and asking it, again and again for as long as the page is open and not everything is kept.
 * @param {import("../clock.js").Clock} clock
 * @param {() => void} tell
 */
function keeping(clock, tell) {
  /** @type {{registration: ServiceWorkerRegistration|null, isKept: boolean|null, failures: number, cancel(): void}} */
  const held = { registration: null, isKept: null, failures: 0, cancel: () => undefined };
  const url = /** @type {string} */ (scriptUrl());
  const keep = async () => {
    held.registration = await register(url);
    const { active = null, installing = null } = held.registration ?? {};
    watch(installing);
    if (held.registration) held.registration.onupdatefound = () => watch(held.registration?.installing);
    const before = held.isKept;
    held.isKept = active !== null && (await answerOf(active));
    held.cancel();
    held.failures = held.isKept ? 0 : held.failures + 1;
    if (!held.isKept && (active || !installing)) held.cancel = clock.after(waitBeforeRetry(held.failures, 1), keep);
    if (held.isKept !== before) tell();
  };
  /** @param {ServiceWorker|null|undefined} worker */
  const watch = (worker) => {
    if (!worker) return;
    worker.onstatechange = () => {
      tell();
      if (ENDED.includes(worker.state)) void keep();
    };
  };
  return { held, keep };
}

/** @param {string} url @returns {Promise<ServiceWorkerRegistration|null>} */
function register(url) {
  return navigator.serviceWorker.register(url, { scope: SCOPE, updateViaCache: "none" }).catch(() => null);
}

/**
 * Only the worker knows all that it must keep; one of a build before this question never answers, and then nobody knows.
 * @param {ServiceWorker} worker
 * @returns {Promise<boolean>} whether it has everything
 */
function answerOf(worker) {
  const { port1, port2 } = new MessageChannel();
  return new Promise((resolve) => {
    port1.onmessage = ({ data }) => resolve(data === true);
    worker.postMessage("keep", [port2]);
  });
}

/** The one script address that this app may register, vouched for where the browser asks for that. */
function scriptUrl() {
  const types = /** @type {any} */ (globalThis).trustedTypes;
  if (!types) return WORKER;
  const policy = types.createPolicy("halfturn", {
    createScriptURL(/** @type {string} */ url) {
      if (url !== WORKER) throw new TypeError(`not a script of this app: ${url}`);
      return url;
    },
  });
  return policy.createScriptURL(WORKER);
}
