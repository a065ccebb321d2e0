/**
 * A browser with one service worker, for tests of the keeper: they say what registering comes to and what the worker answers.
 */

import assert from "node:assert/strict";
import { afterEach, beforeEach } from "node:test";
import { createKeeper } from "../../pwa_assets/js/edges/storage/keeper.js";

const settle = () => new Promise((done) => setImmediate(done));

/** A browser with one service worker. A test sets the worker's state and its answer, which may be none. */
class Browser {
  /** @type {any} */
  registration = null;
  /** @type {any} what the next registering comes to; null: it fails */
  next = { active: null, installing: null };
  registered = 0;
  /** @type {any} what is registered before this page registers anything */
  known = undefined;
  /** @type {string[]} */
  reloads = [];
  /** @type {string[]} the languages by which the worker was registered */
  locales = [];
  /** @type {{ms: number, then: () => void}[]} */
  waits = [];
  /** @type {boolean|undefined} */
  hasAll = undefined;

  constructor() {
    this.container = Object.assign(new EventTarget(), {
      register: (/** @type {string} */ url) => this.#register(url),
      controller: /** @type {any} */ (null),
      getRegistration: async () => this.known,
    });
    const page = Object.assign(new EventTarget(), {
      visibilityState: "visible",
      documentElement: { lang: "en" },
      body: { dataset: { screen: "day" } },
      querySelector: () => ({}),
    });
    const set = (/** @type {string} */ name, /** @type {any} */ value) =>
      Object.defineProperty(globalThis, name, { value, configurable: true });
    set("navigator", { serviceWorker: this.container });
    set("document", page);
    set("location", { pathname: "/app/en/", hash: "", reload: () => this.reloads.push("again") });
    set("history", {
      replaceState: (/** @type {any} */ _state, /** @type {string} */ _title, /** @type {string} */ address) => {
        location.hash = address;
      },
    });
    set("CSS", { escape: (/** @type {string} */ text) => text });
    const wide = new EventTarget();
    set("addEventListener", wide.addEventListener.bind(wide));
    this.online = () => wide.dispatchEvent(new Event("online"));
  }

  /** @param {string} url */
  async #register(url) {
    this.registered += 1;
    this.locales.push(new URL(url, "http://phone.example").searchParams.get("locale") ?? "");
    if (!this.next) throw new TypeError("the script did not come");
    return { update: async () => undefined, ...this.next };
  }

  /** @type {any[]} what workers were told to do */
  orders = [];
  /** @type {string[]} the languages of the workers that were asked whether every file is cached */
  questioned = [];

  /** @param {string} state @param {string} [locale] */
  worker(state, locale = "en") {
    const scriptURL = `http://phone.example/app/service_worker.js?locale=${locale}`;
    const postMessage = (/** @type {any} */ message, /** @type {MessagePort[]} */ [port] = []) => {
      if (!port) return void this.orders.push([locale, message]);
      assert.equal(message, "keep");
      this.questioned.push(locale);
      if (this.hasAll !== undefined) port.postMessage(this.hasAll);
      setImmediate(() => port.close());
    };
    return { state, scriptURL, postMessage, onstatechange: () => undefined };
  }

  clock = /** @type {any} */ ({
    after: (/** @type {number} */ ms, /** @type {() => void} */ then) => {
      const wait = { ms, then };
      this.waits.push(wait);
      return () => void this.waits.splice(this.waits.indexOf(wait), 1);
    },
  });

  async waitOut() {
    for (const { then } of this.waits.splice(0)) then();
    await heard();
  }
}

/** Waits long enough for a message to arrive. */
export const heard = async () => {
  for (let turn = 0; turn < 100; turn++) await settle();
};

/** @typedef {{browser: Browser, keeper: ReturnType<typeof createKeeper>}} Trial */

/**
 * Gives each test of a file a browser and a keeper of its own.
 * @returns {Trial} filled anew before each test
 */
export function keptAnew() {
  const trial = /** @type {Trial} */ ({});
  /** @type {BroadcastChannel[]} */
  const channels = [];
  beforeEach(() => {
    const Own = globalThis.BroadcastChannel;
    class Counted extends Own {
      constructor(/** @type {string} */ name) {
        super(name);
        channels.push(this);
      }
    }
    Object.defineProperty(globalThis, "BroadcastChannel", { value: Counted, configurable: true, writable: true });
    trial.browser = new Browser();
    trial.keeper = createKeeper(trial.browser.clock);
    Object.defineProperty(globalThis, "BroadcastChannel", { value: Own, configurable: true, writable: true });
  });
  afterEach(() => {
    for (const channel of channels.splice(0)) channel.close();
  });
  return trial;
}
