/**
 * Caches the app on the phone: the shell of its language, the scripts and the drawings. It never handles personal data.
 *
 * The server puts one line in front of this file:
 *   self.HALFTURN = {build, shells: {locale: address}, precache: [{url, sha256, locale?}, ...]}
 * The phone's language is named in the address by which the page registered this worker; every page of the app is in it.
 * One changed byte in any file therefore makes a new worker. The worker answers only from its caches and never stores an
 * answer of the server's API. It replaces an older worker only when the page asks for that.
 */

/**
 * @typedef {{url: string, sha256: string, locale?: string}} Entry
 * @typedef {{build: string, shells: Record<string, string>, precache: Entry[]}} Carried
 */

const worker = /** @type {ServiceWorkerGlobalScope & {HALFTURN: Carried}} */ (/** @type {unknown} */ (self));
const { build, shells, precache } = worker.HALFTURN;
const named = new URL(worker.location.href).searchParams.get("locale") ?? "";
/** A language that is served no more gives way to the default. */
const locale = named in shells ? named : Object.keys(shells)[0];
const carried = precache.filter((entry) => !entry.locale || entry.locale === locale);
/** Behind the #, so that the browser fetches and caches a page under one address only. */
const CHOSEN = "?chosen";
const PREFIX = "halfturn-";
const CACHE = PREFIX + build;
const ANYHOW = { ignoreVary: true };
const NEVER_KEPT = ["/app/recover", "/app/service_worker.js"];

worker.addEventListener("install", (event) => event.waitUntil(install()));
worker.addEventListener("activate", (event) => event.waitUntil(activate()));
worker.addEventListener("message", (event) => {
  if (event.data === "skip_waiting") worker.skipWaiting();
  if (event.data?.hold) event.waitUntil(hold(event.data.hold).then((isHeld) => event.ports[0].postMessage(isHeld)));
  if (event.data === "keep") event.waitUntil(complete().then((isKept) => event.ports[0].postMessage(isKept)));
});
worker.addEventListener("fetch", (event) => {
  const address = keptAddress(event.request);
  if (address) event.respondWith(answer(address, event.request));
});

/** Caches every file or fails. If one file is missing, or has another hash than announced, the older build stays. */
async function install() {
  const cache = await caches.open(CACHE);
  const older = await olderEntries();
  await Promise.all(carried.map((entry) => keep(cache, entry, older)));
}

/**
 * Caches the pages of another language, for a phone that is about to change to it.
 * @param {string} other
 * @returns {Promise<boolean>} whether they are cached
 */
async function hold(other) {
  const [cache, pages] = [await caches.open(CACHE), precache.filter((entry) => entry.locale === other)];
  const all = Promise.all(pages.map((entry) => keep(cache, entry, new Map())));
  return all.then(
    () => pages.length > 0,
    () => false,
  );
}

/**
 * Fetches what is missing first: a browser may have deleted files to free storage.
 * @returns {Promise<boolean>} whether every announced file is cached
 */
async function complete() {
  return (await isComplete()) || install().then(isComplete, () => false);
}

async function isComplete() {
  const cache = await caches.open(CACHE);
  const kept = new Set((await cache.keys()).map(({ url }) => new URL(url).pathname));
  return carried.every(({ url }) => kept.has(url));
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
 * Looks in the browser's own cache first, which has what the page has just fetched. The hash tells whether it is the same file.
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
 * @returns {Promise<Map<string, () => Response>>} the cached files of earlier builds, by the hash of their bytes
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

/** Deletes the caches of earlier builds. While a window is open, the newest of them stays: that window may need it. */
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
 * @param {Request} request
 * @returns {string|null} the address under which its answer is cached; null where the network must answer
 */
function keptAddress(request) {
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== worker.location.origin) return null;
  if (NEVER_KEPT.includes(url.pathname)) return null;
  if (request.mode === "navigate") return shellFor(url);
  const isKept = url.pathname.startsWith("/assets/") || precache.some((entry) => entry.url === url.pathname);
  return isKept ? url.pathname : null;
}

/**
 * The phone's own language, whatever an old icon on the home screen says; another one where the address says that it was chosen.
 * @param {URL} url
 */
function shellFor({ pathname, hash }) {
  if (!pathname.startsWith("/app/")) return null;
  const [, , other] = pathname.split("/");
  return shells[hash.endsWith(CHOSEN) && other in shells ? other : locale];
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
