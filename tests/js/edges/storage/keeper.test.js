import assert from "node:assert/strict";
import { afterEach, beforeEach, test } from "node:test";
import { createKeeper } from "../../../../pwa_assets/js/edges/storage/keeper.js";

const settle = () => new Promise((done) => setImmediate(done));
const always = /** @type {any} */ (undefined);

/** A browser with one service worker. A test sets the worker's state and its answer, which may be none. */
class Browser {
  /** @type {any} */
  registration = null;
  /** @type {any} what the next registering comes to; null: it fails */
  next = { active: null, installing: null };
  registered = 0;
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

  /** @param {string} state @param {string} [locale] */
  worker(state, locale = "en") {
    const scriptURL = `http://phone.example/app/service_worker.js?locale=${locale}`;
    const postMessage = (/** @type {any} */ message, /** @type {MessagePort[]} */ [port] = []) => {
      if (!port) return void this.orders.push([locale, message]);
      assert.equal(message, "keep");
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
const heard = async () => {
  for (let turn = 0; turn < 100; turn++) await settle();
};

/** @type {Browser} */
let browser;
/** @type {ReturnType<typeof createKeeper>} */
let keeper;
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
  browser = new Browser();
  keeper = createKeeper(browser.clock);
  Object.defineProperty(globalThis, "BroadcastChannel", { value: Own, configurable: true, writable: true });
});

afterEach(() => {
  for (const channel of channels.splice(0)) channel.close();
});

test("nothing is claimed before the worker has answered", async () => {
  assert.equal(keeper.isKept(), null);
  browser.next = { active: browser.worker("activated"), installing: null };
  void keeper.start(always);
  await heard();
  assert.equal(keeper.isKept(), null);
});

test("the app counts as kept once the active worker has every file, and not before", async () => {
  browser.next = { active: browser.worker("activated"), installing: null };
  browser.hasAll = false;
  void keeper.start(always);
  await heard();
  assert.equal(keeper.isKept(), false);
  browser.hasAll = true;
  await browser.waitOut();
  assert.equal(keeper.isKept(), true);
  assert.equal(browser.waits.length, 0);
});

test("a worker that is still fetching keeps nothing yet, however long that takes", async () => {
  browser.next = { active: null, installing: browser.worker("installing") };
  browser.hasAll = true;
  void keeper.start(always);
  await heard();
  assert.equal(keeper.isKept(), false);
  assert.equal(browser.waits.length, 0);
});

test("a worker that failed half way is tried again by itself, each time later, and at once when the network is back", async () => {
  const failing = browser.worker("installing");
  browser.next = { active: null, installing: failing };
  void keeper.start(always);
  await heard();
  browser.next = { active: null, installing: null };
  failing.state = "redundant";
  failing.onstatechange();
  await heard();
  assert.equal(keeper.isKept(), false);
  const [first] = browser.waits;
  await browser.waitOut();
  const [second] = browser.waits;
  assert.ok(second.ms > first.ms);
  browser.next = { active: browser.worker("activated"), installing: null };
  browser.hasAll = true;
  browser.online();
  await heard();
  assert.equal(keeper.isKept(), true);
  assert.equal(browser.waits.length, 0);
});

test("a worker whose script does not come is asked for again", async () => {
  browser.next = null;
  void keeper.start(always);
  await heard();
  assert.equal(keeper.isKept(), false);
  browser.next = { active: browser.worker("activated"), installing: null };
  browser.hasAll = true;
  await browser.waitOut();
  assert.equal(keeper.isKept(), true);
});

test("what was kept and is gone is not claimed any longer", async () => {
  browser.next = { active: browser.worker("activated"), installing: null };
  browser.hasAll = true;
  void keeper.start(always);
  await heard();
  browser.hasAll = false;
  let notices = 0;
  keeper.onChange(() => {
    notices += 1;
  });
  document.dispatchEvent(new Event("visibilitychange"));
  await heard();
  assert.equal(keeper.isKept(), false);
  assert.ok(notices > 0);
});

test("a first visit registers the worker of the page's language", async () => {
  browser.hasAll = true;
  await keeper.start(always);
  assert.deepEqual(browser.locales, ["en"]);
});

test("a page that was opened by choosing its language takes the phone over, and its address forgets the choice", async () => {
  browser.hasAll = true;
  location.hash = "#day?chosen";
  browser.container.controller = browser.worker("activated", "pl");
  browser.next = {
    active: browser.worker("activated", "pl"),
    waiting: browser.worker("installed", "en"),
    installing: null,
  };
  await keeper.start(always);
  assert.deepEqual(browser.locales, ["en"]);
  assert.deepEqual(browser.orders, [["en", "skip_waiting"]]);
  assert.equal(location.hash, "#day");
  assert.equal(keeper.isNewerWaiting(), false);
});

test("a window that is left in the earlier language follows when it is looked at, and never takes the choice back", async () => {
  browser.hasAll = true;
  browser.next = { active: browser.worker("activated", "pl"), waiting: null, installing: null };
  browser.container.controller = browser.worker("activated", "pl");
  await keeper.start(always);
  assert.deepEqual(browser.locales, ["pl"]);
  browser.online();
  assert.equal(browser.reloads.length, 1);
});

test("a window with something half done does not reload by itself", async () => {
  browser.hasAll = true;
  browser.container.controller = browser.worker("activated", "pl");
  await keeper.start(always);
  for (const screen of ["session", "morning", "warnings"]) {
    document.body.dataset.screen = screen;
    browser.online();
  }
  assert.equal(browser.reloads.length, 0);
});

test("a newer build in the same language waits for the client", async () => {
  browser.hasAll = true;
  browser.container.controller = browser.worker("activated");
  browser.next = { active: browser.worker("activated"), waiting: browser.worker("installed"), installing: null };
  await keeper.start(always);
  assert.deepEqual(browser.orders, []);
  assert.equal(keeper.isNewerWaiting(), true);
});
