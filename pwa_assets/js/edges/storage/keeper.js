/**
 * The page's side of the service worker: it registers the worker, looks for a newer build, switches to it, and asks whether
 * every file is cached. A newer build waits until the page asks for it; the page never asks while a session runs.
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
    /** Whether the app starts without a network; null while that is not known. */
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
 * Registers the worker and asks it whether every file is cached. While the answer is no, both are retried.
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
 * Only the worker knows the list of its files. A worker of an old build never answers this question.
 * @param {ServiceWorker} worker
 * @returns {Promise<boolean>} whether every file is cached
 */
function answerOf(worker) {
  const { port1, port2 } = new MessageChannel();
  return new Promise((resolve) => {
    port1.onmessage = ({ data }) => resolve(data === true);
    worker.postMessage("keep", [port2]);
  });
}

/** The only script address that this app registers, as a trusted URL where the browser enforces Trusted Types. */
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
