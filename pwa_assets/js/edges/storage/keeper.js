/**
 * The page's side of the service worker: it registers the worker, looks for a newer build, switches to it, and asks whether
 * every file is cached. A newer build waits until the page asks for it; the page never asks while a session runs.
 */

import { waitBeforeRetry } from "../../pure/sync/backoff.js";
import { createNotice } from "../notice.js";
import {
  addressOf,
  enter,
  isForThisPage,
  isOfAnotherLanguage,
  localeOf,
  ownLocale,
  phoneLocale,
  takeChoice,
  takesOver,
} from "./language.js";

const WORKER = "/app/service_worker.js";
const SCOPE = "/app/";
const ENDED = ["activated", "redundant"];
const PATIENCE_MS = 20_000;

/** @typedef {ReturnType<typeof createKeeper>} Keeper */

/** @param {import("../clock.js").Clock} clock */
export function createKeeper(clock) {
  const notice = createNotice("halfturn-keeper");
  const { held, keep } = keeping(clock, notice.tell);
  let isLeaving = false;
  const look = () => {
    if (document.visibilityState !== "visible") return;
    if (isOfAnotherLanguage()) return location.reload();
    held.registration?.update().catch(() => undefined);
    void keep();
  };
  return {
    isNewerWaiting: () => isNewerWaiting(held.registration),
    /** Whether the app starts without a network; null while that is not known. */
    isKept: () => held.isKept,
    onChange: notice.listen,
    useNewer() {
      isLeaving = true;
      held.registration?.waiting?.postMessage("skip_waiting");
    },
    hold: (/** @type {string} */ locale) => hold(clock, locale),
    /** Opens the app in another language, whose worker then takes over, even if the app is closed at once. @param {string} locale */
    async enter(locale) {
      if ("serviceWorker" in navigator) await register(locale);
      enter(locale);
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
  /** @type {{registration: ServiceWorkerRegistration|null, isKept: boolean|null, isChosen: boolean, failures: number, cancel(): void}} */
  const held = { registration: null, isKept: null, isChosen: false, failures: 0, cancel: () => undefined };
  const keep = async () => {
    held.isChosen ||= takeChoice();
    held.registration = await register(held.isChosen ? ownLocale() : await phoneLocale());
    const { active = null, waiting = null, installing = null } = held.registration ?? {};
    // It waits only because it has another language than the worker before it, and this page is in that language already.
    if (takesOver(waiting, active)) waiting?.postMessage("skip_waiting");
    // Chosen once: later this window follows the phone like any other.
    if (active && localeOf(active) === ownLocale()) held.isChosen = false;
    for (const worker of [waiting, installing]) watch(worker);
    if (held.registration) held.registration.onupdatefound = () => watch(held.registration?.installing);
    const before = held.isKept;
    // A worker that is about to be replaced must first stop. A question would start it again, and its successor would go on waiting.
    if (!takesOver(waiting ?? installing, active)) held.isKept = active !== null && (await answerOf(active, "keep"));
    held.cancel();
    held.failures = held.isKept ? 0 : held.failures + 1;
    // Until the worker of the chosen language is in charge, it is looked for again: what it says of itself can be missed.
    if (held.isChosen || (!held.isKept && (active || !installing)))
      held.cancel = clock.after(waitBeforeRetry(Math.max(held.failures, 1), 1), keep);
    if (held.isKept !== before) tell();
  };
  /** @param {ServiceWorker|null|undefined} worker */
  const watch = (worker) => {
    if (!worker) return;
    worker.onstatechange = () => {
      tell();
      // The worker itself is asked: the registration may not say yet that it waits.
      if (worker.state === "installed" && takesOver(worker, held.registration?.active))
        worker.postMessage("skip_waiting");
      if (ENDED.includes(worker.state)) void keep();
    };
  };
  return { held, keep };
}

/** A worker that waits only because it has another language is no newer build. @param {ServiceWorkerRegistration|null} registration */
const isNewerWaiting = (registration) =>
  Boolean(registration?.waiting && navigator.serviceWorker.controller && !isForThisPage(registration));

/**
 * Fetches the page of another language, so that it opens without a network.
 * @param {import("../clock.js").Clock} clock
 * @param {string} locale
 * @returns {Promise<boolean>} whether it came; where the browser keeps no app, whether the network has it
 */
function hold(clock, locale) {
  const worker = navigator.serviceWorker?.controller;
  const outcome = worker
    ? answerOf(worker, { hold: locale })
    : fetch(addressOf(locale)).then(
        ({ ok }) => ok,
        () => false,
      );
  return Promise.race([outcome, new Promise((resolve) => clock.after(PATIENCE_MS, () => resolve(false)))]);
}

/** @param {string} locale @returns {Promise<ServiceWorkerRegistration|null>} */
function register(locale) {
  const url = /** @type {string} */ (scriptUrl(locale));
  return navigator.serviceWorker.register(url, { scope: SCOPE, updateViaCache: "none" }).catch(() => null);
}

/**
 * Only the worker knows the list of its files. A worker of an old build never answers this question.
 * @param {ServiceWorker} worker
 * @param {"keep"|{hold: string}} question
 * @returns {Promise<boolean>} keep: whether every file is cached; hold: whether the pages of a language are
 */
function answerOf(worker, question) {
  const { port1, port2 } = new MessageChannel();
  return new Promise((resolve) => {
    port1.onmessage = ({ data }) => resolve(data === true);
    worker.postMessage(question, [port2]);
  });
}

/** @type {any} */
let policy = null;

/** The only script that this app registers, as a trusted URL where the browser enforces Trusted Types. @param {string} locale */
function scriptUrl(locale) {
  const types = /** @type {any} */ (globalThis).trustedTypes;
  const url = `${WORKER}?locale=${encodeURIComponent(locale)}`;
  if (!types) return url;
  policy ??= types.createPolicy("halfturn", {
    createScriptURL(/** @type {string} */ address) {
      if (!address.startsWith(`${WORKER}?locale=`)) throw new TypeError(`not a script of this app: ${address}`);
      return address;
    },
  });
  return policy.createScriptURL(url);
}
