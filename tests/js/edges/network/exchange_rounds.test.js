import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";
import { exchange } from "../../../../pwa_assets/js/edges/network/exchange.js";
import { createStore } from "../../../../pwa_assets/js/edges/storage/store.js";
import { emptyPhone } from "../../browser.js";

const CLIENT = "ansgar0001";
const NOW = Date.UTC(2026, 2, 2, 18);
const clock = /** @type {any} */ ({ now: () => NOW, today: () => "2026-03-02", zone: () => "Europe/Lisbon" });
const IDLE = { phase: "idle", message: "", waitSeconds: 0 };
const WAITING = { phase: "waiting", message: "", waitSeconds: 0 };

/** @type {import("../../../../pwa_assets/js/edges/storage/store.js").Store} */
let store;

beforeEach(async () => {
  await emptyPhone();
  store = createStore(clock, () => assert.fail("no other window is open"));
  await store.setMeta("client", CLIENT);
  await store.setMeta("device", "d1");
});

/** @param {number} count of entries that wait */
async function wait(count) {
  const kind = /** @type {const} */ ("morning_reported");
  const draft = { kind, on: "2026-03-02", body: { arms: {} } };
  await store.addEvents(...Array.from({ length: count }, (_, i) => ({ ...draft, id: `e${i}` })));
}

/**
 * One sync with a server that answers as a test says, request by request.
 * @param {((request: any) => any)[]} steps what each request comes to; one more request than these fails
 */
async function talk(...steps) {
  /** @type {any[]} */
  const requests = [];
  const sync = async (/** @type {any} */ request) => {
    requests.push(request);
    const step = steps[requests.length - 1];
    assert.ok(step, `request ${requests.length} was not expected`);
    return step(request);
  };
  const end = await exchange(store, clock, /** @type {any} */ ({ sync }), "en");
  assert.equal(requests.length, steps.length);
  return { end, asked: requests, sizes: requests.map(({ events }) => events.length) };
}

/** A reply that stores every entry that was sent. @param {any} [other] */
const stores =
  (other = {}) =>
  (/** @type {any} */ { events, cursor }) => {
    const results = events.map((/** @type {any} */ { id }) => ({ id, status: "stored" }));
    const body = { epoch: "e1", results, cursor: cursor + results.length, events: [], more: false, bundle: null };
    return { kind: "answer", body: { ...body, ...other } };
  };

/** @param {number} status @param {string} [code] */
const refuses =
  (status, code = "no") =>
  () => ({ kind: "refused", status, code, message: "No.", waitSeconds: 7 });

test("a request says who asks, from where it has read, and on which day", async () => {
  await wait(1);
  await store.setMeta("bundleHash", "h1");
  const { asked: requests } = await talk(stores());
  const { events, ...head } = requests[0];
  assert.deepEqual(head, {
    format: 1,
    client: CLIENT,
    device: "d1",
    epoch: null,
    cursor: 0,
    on: "2026-03-02",
    zone: "Europe/Lisbon",
    sent_at: "2026-03-02T18:00:00.000Z",
    locale: "en",
    bundle: "h1",
  });
  assert.deepEqual(events, await store.events());
});

test("it goes on until nothing waits: a hundred entries, and the rest after them", async () => {
  await wait(130);
  const { end, sizes } = await talk(stores(), stores());
  assert.deepEqual([end, sizes], [IDLE, [100, 30]]);
  assert.deepEqual(await store.unsent(), []);
});

test("it goes on while more is on the way, from the place that it has read to", async () => {
  const { end, asked: requests } = await talk(stores({ more: true, cursor: 100 }), stores({ cursor: 130 }));
  assert.deepEqual([end, requests.map(({ cursor }) => cursor)], [IDLE, [0, 100]]);
});

test("a request that is too large is halved, and the rest goes in pieces of that size", async () => {
  await wait(105);
  const { end, sizes } = await talk(refuses(413), refuses(413), ...Array.from({ length: 5 }, () => stores()));
  assert.deepEqual([end, sizes], [IDLE, [100, 50, 25, 25, 25, 25, 5]]);
});

test("one entry alone that is too large is not halved again: the refusal is said", async () => {
  await wait(1);
  const halvings = [100, 50, 25, 13, 7, 4, 2, 1];
  const { end } = await talk(...halvings.map(() => refuses(413)));
  assert.deepEqual(end, { phase: "refused", message: "No.", waitSeconds: 0 });
  assert.equal((await store.unsent()).length, 1);
});

test("after a reply that changed nothing there is no immediate retry", async () => {
  await wait(1);
  const later = stores({ results: [{ id: "e0", status: "rejected", again: true }], cursor: 0 });
  await store.setMeta("epoch", "e1");
  assert.deepEqual((await talk(later)).end, WAITING);
  assert.equal((await store.unsent()).length, 1);
});

for (const [moving, moved] of Object.entries({
  "an entry": { results: [{ id: "e0", status: "stored" }], cursor: 0 },
  "a refusal for good": { results: [{ id: "e0", status: "rejected" }], cursor: 0 },
  "the place that was read to": { results: [{ id: "e0", status: "rejected", again: true }], cursor: 1 },
  "a bundle": { results: [], cursor: 0, bundle: { hash: "h2", routine: { version: 1 } }, bundle_hash: "h2" },
})) {
  test(`an answer that moved ${moving} is followed by the next request`, async () => {
    await wait(2);
    await store.setMeta("epoch", "e1");
    const { end } = await talk(stores(moved), stores());
    assert.equal(end.phase, "idle");
  });
}

test("a new epoch makes everything wait again from the beginning, and nothing of that answer is taken in", async () => {
  await wait(2);
  await talk(stores());
  await wait(3);
  const restored = stores({ epoch: "e2", results: [{ id: "e2", status: "stored" }] });
  const { end, asked: requests, sizes } = await talk(restored, stores({ epoch: "e2" }));
  assert.deepEqual([end, sizes], [IDLE, [1, 3]]);
  assert.deepEqual(
    requests.map(({ epoch, cursor }) => [epoch, cursor]),
    [
      ["e1", 2],
      ["e2", 0],
    ],
  );
});

test("a phone without an epoch accepts the first epoch", async () => {
  await wait(1);
  const { end } = await talk(stores({ epoch: "e9" }));
  assert.deepEqual([end, await store.getMeta("epoch")], [IDLE, "e9"]);
});

test("without an answer the entries wait", async () => {
  await wait(1);
  assert.deepEqual((await talk(() => ({ kind: "silent" }))).end, WAITING);
  assert.equal((await store.unsent()).length, 1);
});

for (const status of [429, 500, 503]) {
  test(`where the server says ${status}, the phone waits as long as it is told`, async () => {
    assert.deepEqual((await talk(refuses(status))).end, { phase: "waiting", message: "No.", waitSeconds: 7 });
    assert.equal(await store.getMeta("link"), undefined);
  });
}

test("a refusal that waiting does not help is kept, so that the page can say it", async () => {
  for (const [status, code, phase] of /** @type {[number, string, string][]} */ ([
    [401, "not_joined", "signed_out"],
    [409, "another_client", "other_client"],
    [400, "unreadable", "refused"],
    [428, "odd", "refused"],
  ])) {
    const { end } = await talk(refuses(status, code));
    assert.deepEqual([end, await store.getMeta("link")], [{ phase, message: "No.", waitSeconds: 0 }, phase]);
  }
});

test("entries of another client that are still on the phone are not sent under this one's name", async () => {
  await wait(1);
  await store.setMeta("client", "mirela0001");
  const { asked: requests } = await talk((request) => ({ ...stores()(request), kind: "silent" }));
  assert.deepEqual([requests[0].client, requests[0].events], ["mirela0001", []]);
});
