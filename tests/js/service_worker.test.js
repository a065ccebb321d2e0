import assert from "node:assert/strict";
import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { beforeEach, test } from "node:test";
import { createContext, runInContext } from "node:vm";

const SOURCE = readFileSync(new URL("../../pwa_assets/service_worker.js", import.meta.url), "utf8");
const ORIGIN = "https://halfturn.example";
const FILES = ["/app/en/", "/assets/1a/js/main.js", "/assets/2b/css/phone.css", "/assets/3c/icons/halfturn.svg"];
const sha256 = (/** @type {string} */ text) => createHash("sha256").update(text).digest("hex");
const settle = () => new Promise((done) => setImmediate(done));

/** The part of the browser's caches that the worker uses. */
class Cache {
  /** @type {Map<string, Response>} */
  kept = new Map();
  keys = async () => [...this.kept.keys()].map((url) => ({ url: ORIGIN + url }));
  match = async (/** @type {any} */ request) => this.kept.get((request.url ?? request).replace(ORIGIN, ""))?.clone();

  /** @param {string} url @param {Response} response */
  async put(url, response) {
    await response.clone().arrayBuffer();
    this.kept.set(url, response);
  }
}

/** @type {Map<string, Cache>} */
let caches;
/** How the network answers a request. @type {(url: string) => Promise<Response>} */
let network;
let hangs = false;
/** The browser's own cache after the page was loaded. @type {Map<string, string>} */
let browserHas;
/** The addresses that were fetched over the network. @type {string[]} */
let fetched;
/** @type {(type: string, event?: object) => Promise<any>} */
let send;
/** What the app shows at an address. @type {(address: string) => Promise<string>} */
let opened;

/** What the server's line says of a page that is in one language. @param {string} url @param {string} [locale] */
const entry = (url, locale) => ({ url, sha256: sha256(url), ...(locale && { locale }) });
const POLISH = "/app/pl/";

const served = async (/** @type {string} */ url) => new Response(url);

beforeEach(() => {
  caches = new Map();
  browserHas = new Map();
  fetched = [];
  hangs = false;
  network = served;
  begin(
    { en: FILES[0] },
    FILES.map((url) => entry(url)),
  );
});

/** @param {Record<string, string>} shells @param {object[]} precache @param {string} [locale] by which the page registered the worker */
function begin(shells, precache, locale = "en") {
  /** @type {Record<string, (event: any) => void>} */
  const heard = {};
  const worker = {
    HALFTURN: { build: "b1", shells, precache },
    location: { origin: ORIGIN, href: `${ORIGIN}/app/service_worker.js?locale=${locale}` },
    addEventListener: (/** @type {string} */ type, /** @type {any} */ then) => {
      heard[type] = then;
    },
    clients: { matchAll: async () => [], claim: async () => undefined },
  };
  const open = async (/** @type {string} */ name) => {
    if (!caches.has(name)) caches.set(name, new Cache());
    return caches.get(name);
  };
  const fetch = (/** @type {string} */ url, /** @type {RequestInit} */ { cache }) => {
    const had = cache === "force-cache" ? browserHas.get(url) : undefined;
    if (had !== undefined) return Promise.resolve(new Response(had));
    fetched.push(url);
    return network(url);
  };
  const storage = {
    open,
    keys: async () => [...caches.keys()],
    delete: async (/** @type {string} */ name) => caches.delete(name),
  };
  runInContext(SOURCE, createContext({ self: worker, caches: storage, fetch, crypto, URL, Response, Uint8Array }));
  send = (type, event = {}) => {
    /** @type {Promise<any>} */
    let work = Promise.resolve();
    heard[type]({ ...event, waitUntil: (/** @type {Promise<any>} */ promise) => (work = promise) });
    return work;
  };
  opened = async (address) => {
    const request = { url: ORIGIN + address, method: "GET", mode: "navigate" };
    let answered = Promise.resolve(new Response("the network's answer"));
    heard.fetch({ request, respondWith: (/** @type {any} */ promise) => (answered = promise) });
    return (await answered).text();
  };
}

const BOTH = { en: FILES[0], pl: POLISH };
const IN_BOTH = [entry(FILES[0], "en"), entry(POLISH, "pl"), ...FILES.slice(1).map((url) => entry(url))];
const keptNow = () => [...(caches.get("halfturn-b1")?.kept.keys() ?? [])].sort();
const held = async (/** @type {string} */ locale) => {
  let said = false;
  const postMessage = (/** @type {boolean} */ isHeld) => {
    said = isHeld;
  };
  await send("message", { data: { hold: locale }, ports: [{ postMessage }] });
  return said;
};

const NOTHING = "nothing";

/** @returns {Promise<boolean|string>} the worker's answer to a page that asks whether every file is cached, or NOTHING if its work ends without one */
async function answer() {
  /** @type {boolean|string} */
  let said = NOTHING;
  const postMessage = (/** @type {boolean} */ isKept) => {
    said = isKept;
  };
  await Promise.race([send("message", { data: "keep", ports: [{ postMessage }] }), isHanging()]);
  return said;
}

/** Resolves only where a test lets the network hang, to end the wait. */
async function isHanging() {
  if (!hangs) return new Promise(() => undefined);
  for (let turn = 0; turn < 200; turn++) await settle();
}

const broken = (/** @type {string} */ missing) => async (/** @type {string} */ url) =>
  url === missing ? new Response("", { status: 503 }) : served(url);

test("all is kept once the worker is installed, and asking costs no network", async () => {
  await send("install");
  fetched = [];
  assert.equal(await answer(), true);
  assert.deepEqual(fetched, []);
});

test("what the page has fetched is not fetched again", async () => {
  browserHas = new Map(FILES.slice(0, 3).map((url) => [url, url]));
  await send("install");
  assert.deepEqual(fetched, [FILES[3]]);
  assert.equal(await answer(), true);
});

test("what the browser kept of an older build is fetched anew", async () => {
  browserHas = new Map([[FILES[0], "an older shell"]]);
  await send("install");
  assert.deepEqual(fetched.sort(), [...FILES].sort());
  assert.equal(await answer(), true);
});

for (const missing of FILES) {
  test(`one file that fails half way leaves it not kept: ${missing}`, async () => {
    network = broken(missing);
    await assert.rejects(send("install"), /not the file/);
    assert.equal(await answer(), false);
  });
}

test("a file whose download never ends does not count as kept", async () => {
  network = (url) => (url === FILES[2] ? new Promise(() => undefined) : served(url));
  hangs = true;
  void send("install");
  assert.equal(await answer(), NOTHING);
});

test("a file with other bytes than announced is not cached", async () => {
  network = async (url) => new Response(url === FILES[1] ? "a sign-in page" : url);
  await assert.rejects(send("install"), /not the file/);
  assert.equal(await answer(), false);
});

test("what a browser has cleared away is fetched again, and only that", async () => {
  await send("install");
  await send("activate");
  caches.get("halfturn-b1")?.kept.delete(FILES[3]);
  fetched = [];
  network = broken(FILES[3]);
  assert.equal(await answer(), false);
  network = served;
  assert.equal(await answer(), true);
  assert.deepEqual([...new Set(fetched)], [FILES[3]]);
});

test("a phone carries the pages of its own language only", async () => {
  begin(BOTH, IN_BOTH, "pl");
  await send("install");
  assert.deepEqual(keptNow(), [POLISH, ...FILES.slice(1)].sort());
  assert.equal(await answer(), true);
});

test("whatever address an old icon has, the app opens in the phone's language", async () => {
  begin(BOTH, IN_BOTH, "pl");
  await send("install");
  for (const address of ["/app/en/", "/app/pl/", "/app/"]) assert.equal(await opened(address), POLISH);
});

test("a language that was chosen opens without a network once its pages are held", async () => {
  begin(BOTH, IN_BOTH, "pl");
  await send("install");
  assert.equal(await held("en"), true);
  network = async () => new Response("", { status: 503 });
  assert.equal(await opened("/app/en/#day?chosen"), FILES[0]);
  assert.equal(await opened("/app/en/"), POLISH);
});

test("pages that do not come are not held", async () => {
  begin(BOTH, IN_BOTH, "pl");
  await send("install");
  network = broken(FILES[0]);
  assert.equal(await held("en"), false);
  assert.equal(await held("tlh"), false);
  assert.deepEqual(keptNow(), [POLISH, ...FILES.slice(1)].sort());
});

test("a language that is served no more gives way to the default", async () => {
  begin(BOTH, IN_BOTH, "tlh");
  await send("install");
  assert.equal(await opened("/app/tlh/"), FILES[0]);
});
