import assert from "node:assert/strict";
import { test } from "node:test";
import { createServer } from "../../../../pwa_assets/js/edges/network/server.js";

/** @param {() => Promise<any>} answer @returns {Promise<[boolean, string[]]>} whether the address has ended, and what was asked for */
async function endedBy(answer) {
  /** @type {string[]} */
  const urls = [];
  const fetch = (/** @type {string} */ url) => {
    urls.push(url);
    return answer();
  };
  Object.defineProperty(globalThis, "fetch", { value: fetch, configurable: true });
  return [await createServer().feedEnded("key"), urls];
}

test("only a server that knows no such calendar says that an address has ended", async () => {
  assert.deepEqual(await endedBy(async () => ({ status: 404 })), [true, ["/calendar/key.ics"]]);
  for (const status of [200, 429, 500, 503]) assert.equal((await endedBy(async () => ({ status })))[0], false);
  assert.equal((await endedBy(() => Promise.reject(new TypeError("no network"))))[0], false);
});
