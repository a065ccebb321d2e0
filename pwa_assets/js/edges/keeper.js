/**
 * The page's dealings with the service worker that keeps the app: registering, looking for a newer build, changing over.
 * A newer build waits until the page asks for it, which it does not while a session runs.
 */

import { createNotice } from "./notice.js";

const WORKER = "/app/service_worker.js";
const SCOPE = "/app/";

/** @typedef {ReturnType<typeof createKeeper>} Keeper */

export function createKeeper() {
  const notice = createNotice("halfturn-keeper");
  /** @type {ServiceWorkerRegistration|null} */
  let registration = null;
  let isLeaving = false;
  const look = () => document.visibilityState === "visible" && registration?.update().catch(() => undefined);
  return {
    isNewerWaiting: () => Boolean(registration?.waiting && navigator.serviceWorker.controller),
    onChange: notice.listen,
    useNewer() {
      isLeaving = true;
      registration?.waiting?.postMessage("skip_waiting");
    },
    /** @param {AbortSignal} signal */
    async start(signal) {
      if (!("serviceWorker" in navigator)) return;
      navigator.serviceWorker.addEventListener("controllerchange", () => isLeaving && location.reload(), { signal });
      registration = await navigator.serviceWorker
        .register(/** @type {string} */ (scriptUrl()), { scope: SCOPE, updateViaCache: "none" })
        .catch(() => null);
      registration?.addEventListener("updatefound", () => watch(registration?.installing, notice.tell), { signal });
      addEventListener("pageshow", look, { signal });
      addEventListener("focus", look, { signal });
      document.addEventListener("visibilitychange", look, { signal });
      notice.tell();
    },
  };
}

/**
 * @param {ServiceWorker|null|undefined} worker
 * @param {() => void} tell
 */
function watch(worker, tell) {
  worker?.addEventListener("statechange", tell);
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
