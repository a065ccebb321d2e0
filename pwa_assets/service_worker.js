/**
 * Keeps the app on the phone: the shell of each language, the scripts, the drawings. Nothing personal passes through.
 *
 * The server puts one line in front of this file:
 *   self.HALFTURN = {build, shells: {locale: address}, precache: [{url, sha256}, ...]}
 * so that one changed byte anywhere makes a new worker. It answers only from its caches, never stores an
 * answer of the interface, and takes over from an older worker only when the page says so.
 */

/**
 * @typedef {{url: string, sha256: string}} Entry
 * @typedef {{build: string, shells: Record<string, string>, precache: Entry[]}} Carried
 */

const worker = /** @type {ServiceWorkerGlobalScope & {HALFTURN: Carried}} */ (/** @type {unknown} */ (self));
const { build, shells, precache } = worker.HALFTURN;
const PREFIX = "halfturn-";
const CACHE = PREFIX + build;
const ANYHOW = { ignoreVary: true };
const NEVER_KEPT = ["/app/recover", "/app/service_worker.js"];

worker.addEventListener("install", (event) => event.waitUntil(install()));
worker.addEventListener("activate", (event) => event.waitUntil(activate()));
worker.addEventListener("message", (event) => {
  if (event.data === "skip_waiting") worker.skipWaiting();
  if (event.data === "keep") event.waitUntil(complete().then((isKept) => event.ports[0].postMessage(isKept)));
});
worker.addEventListener("fetch", (event) => {
  const address = keptAddress(event.request);
  if (address) event.respondWith(answer(address, event.request));
});

/** All or nothing: one file that is missing or not the announced one leaves the older build in place. */
async function install() {
  const cache = await caches.open(CACHE);
  const older = await olderEntries();
  await Promise.all(precache.map((entry) => keep(cache, entry, older)));
}

/**
 * Whether everything announced is kept; what is missing, as after a browser made room, is fetched first.
 * @returns {Promise<boolean>}
 */
async function complete() {
  return (await isComplete()) || install().then(isComplete, () => false);
}

async function isComplete() {
  const cache = await caches.open(CACHE);
  const kept = new Set((await cache.keys()).map(({ url }) => new URL(url).pathname));
  return precache.every(({ url }) => kept.has(url));
}

/**
 * @param {Cache} cache
 * @param {Entry} entry
 * @param {Map<string, () => Response>} older
 */
async function keep(cache, entry, older) {
  if (await cache.match(entry.url, ANYHOW)) return;
  const unchanged = older.get(entry.sha256);
  await cache.put(entry.url, unchanged ? unchanged() : await fetched(entry));
}

/**
 * What the page fetched a moment ago is not fetched again: the browser still has it, and its hash tells whether it is that file.
 * @param {Entry} entry
 */
async function fetched(entry) {
  const found = (await announced(entry, "force-cache")) ?? (await announced(entry, "reload"));
  if (!found) throw new Error(`${entry.url} is not the file of build ${build}`);
  return found;
}

/**
 * @param {Entry} entry
 * @param {RequestCache} from
 * @returns {Promise<Response|null>} null for another file than the announced one
 */
async function announced({ url, sha256 }, from) {
  const response = await fetch(url, { cache: from, credentials: "omit" });
  if (!response.ok || response.redirected) return null;
  return (await digest(await response.clone().arrayBuffer())) === sha256 ? response : null;
}

/**
 * What earlier builds left here, by the hash of its bytes.
 * @returns {Promise<Map<string, () => Response>>}
 */
async function olderEntries() {
  const found = new Map();
  for (const name of await ownCaches()) {
    const cache = await caches.open(name);
    for (const request of await cache.keys()) {
      const response = await cache.match(request, ANYHOW);
      if (!response) continue;
      const hash = await digest(await response.clone().arrayBuffer());
      found.set(hash, () => response.clone());
    }
  }
  return found;
}

/** The newest earlier build stays one round longer: a page of it may still be open. */
async function activate() {
  const earlier = (await ownCaches()).filter((name) => name !== CACHE);
  const open = await worker.clients.matchAll({ type: "window" });
  const gone = open.length > 0 ? earlier.slice(0, -1) : earlier;
  await Promise.all(gone.map((name) => caches.delete(name)));
  await worker.clients.claim();
}

async function ownCaches() {
  return (await caches.keys()).filter((name) => name.startsWith(PREFIX));
}

/**
 * The address under which a request is kept, or null for everything that is the network's.
 * @param {Request} request
 */
function keptAddress(request) {
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== worker.location.origin) return null;
  if (NEVER_KEPT.includes(url.pathname)) return null;
  if (request.mode === "navigate") return shellFor(url.pathname);
  const isKept = url.pathname.startsWith("/assets/") || precache.some((entry) => entry.url === url.pathname);
  return isKept ? url.pathname : null;
}

/** @param {string} path */
function shellFor(path) {
  if (!path.startsWith("/app/")) return null;
  const [, , locale] = path.split("/");
  return shells[locale] ?? Object.values(shells)[0];
}

/**
 * @param {string} address
 * @param {Request} request
 */
async function answer(address, request) {
  const own = await (await caches.open(CACHE)).match(address, ANYHOW);
  return own ?? (await caches.match(address, ANYHOW)) ?? fetch(request);
}

/** @param {ArrayBuffer} bytes */
async function digest(bytes) {
  const hash = await crypto.subtle.digest("SHA-256", bytes);
  return Array.from(new Uint8Array(hash), (byte) => byte.toString(16).padStart(2, "0")).join("");
}
