import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";
import { createStore } from "../../../../pwa_assets/js/edges/storage/store.js";
import { emptyPhone } from "../../browser.js";

const CLIENT = "ansgar0001";
const NOW = Date.UTC(2026, 2, 2, 18);
const clock = /** @type {any} */ ({
  now: () => NOW,
  today: () => "2026-03-02",
  zone: () => "Europe/Lisbon",
  hourOn: () => 12,
});
/** @type {any} */
const DRAFT = { kind: "morning_reported", on: "2026-03-02", body: { arms: {} } };

/** @type {import("../../../../pwa_assets/js/edges/storage/store.js").Store} */
let store;

beforeEach(async () => {
  await emptyPhone();
  store = createStore(clock, () => assert.fail("no other window is open"));
  await store.setMeta("client", CLIENT);
});

/** A reply that brings nothing. @param {object} [other] @returns {any} */
const reply = (other = {}) => ({
  epoch: "e1",
  cursor: 1,
  results: [],
  events: [],
  more: false,
  bundle: null,
  ...other,
});

/** @param {object} [other] */
const take = (other) => store.takeReply(reply(other), "2026-03-02", NOW);

/** @param {string} id @param {number} seq @param {string} [kind] */
const pulled = (id, seq, kind = "morning_reported") => ({ seq, event: { ...DRAFT, id, kind, seq } });

/** Each row in short. */
const rows = async () =>
  (await store.rows()).map(({ id, state, from, refusal }) => [id, state, from, refusal?.code ?? ""]);

/** @param {string[]} ids */
const add = (...ids) => store.addEvents(...ids.map((id) => ({ ...DRAFT, id })));

test("an entry made here waits under its client's name, numbered by the phone's own counter", async () => {
  await add("a", "b");
  await add("c");
  const found = (await store.rows()).map(({ id, state, from, client, event }) => [id, state, from, client, event.seq]);
  assert.deepEqual(found, [
    ["a", "waiting", "here", CLIENT, 1],
    ["b", "waiting", "here", CLIENT, 2],
    ["c", "waiting", "here", CLIENT, 3],
  ]);
  const [{ event }] = await store.rows();
  assert.deepEqual([event.at, event.zone, event.v], ["2026-03-02T18:00:00.000Z", "Europe/Lisbon", 1]);
});

test("a second copy of an entry changes nothing and uses no number up", async () => {
  await add("a");
  await store.addEvents({ ...DRAFT, id: "a", body: { arms: { right: {} } } });
  await add("b");
  const events = await store.events();
  assert.deepEqual(
    events.map(({ id, seq, body }) => [id, seq, body]),
    [
      ["a", 1, DRAFT.body],
      ["b", 2, DRAFT.body],
    ],
  );
});

test("what the server stored or had is sent, what it refused for good is refused with its reason, the rest still waits", async () => {
  await add("stored", "duplicate", "conflict", "rejected", "later", "unnamed");
  const refused = { code: "too_old", message: "Too old." };
  await take({
    results: [
      { id: "stored", status: "stored" },
      { id: "duplicate", status: "duplicate" },
      { id: "conflict", status: "conflict" },
      { id: "rejected", status: "rejected", ...refused },
      { id: "later", status: "rejected", again: true, code: "busy" },
      { id: "of nobody", status: "stored" },
    ],
  });
  assert.deepEqual(await rows(), [
    ["stored", "sent", "here", ""],
    ["duplicate", "sent", "here", ""],
    ["conflict", "refused", "here", "conflict"],
    ["rejected", "refused", "here", "too_old"],
    ["later", "waiting", "here", ""],
    ["unnamed", "waiting", "here", ""],
  ]);
  assert.deepEqual(
    (await store.unsent()).map(({ id }) => id),
    ["later", "unnamed"],
  );
  assert.deepEqual(
    (await store.refused()).map(({ refusal }) => refusal),
    [{ code: "conflict", message: "" }, refused],
  );
});

test("a refused entry that the server turns out to have is sent, and its refusal is gone", async () => {
  await add("a");
  await take({ results: [{ id: "a", status: "rejected", code: "strange", message: "Strange." }] });
  await take({ results: [{ id: "a", status: "stored" }] });
  assert.deepEqual(await rows(), [["a", "sent", "here", ""]]);
});

test("what the server has of another phone is kept as sent, and what it has of ours is sent once", async () => {
  await add("mine");
  await take({ events: [pulled("theirs", 1), pulled("mine", 2)] });
  await take({ events: [pulled("theirs", 1)] });
  assert.deepEqual(await rows(), [
    ["mine", "sent", "here", ""],
    ["theirs", "sent", "server", ""],
  ]);
  assert.deepEqual(
    (await store.rows()).map(({ client }) => client),
    [CLIENT, CLIENT],
  );
});

test("where the server lost its log, all that was sent waits again, but not what only the practice writes or what was refused", async () => {
  await add("mine", "refused");
  await take({
    results: [
      { id: "mine", status: "stored" },
      { id: "refused", status: "conflict" },
    ],
    events: [pulled("theirs", 1), pulled("release", 2, "hold_released")],
    cursor: 4,
  });
  await store.startOver("e2");
  assert.deepEqual(await rows(), [
    ["mine", "waiting", "here", ""],
    ["refused", "refused", "here", "conflict"],
    ["theirs", "waiting", "server", ""],
    ["release", "sent", "server", ""],
  ]);
  assert.deepEqual([await store.getMeta("epoch"), await store.getMeta("cursor")], ["e2", 0]);
});

test("an answer is taken in with the place that was read to, and with the time of the answer", async () => {
  await take({ cursor: 7, practitioner: { name: "Hedda Marrow" } });
  const kept = await Promise.all(["cursor", "epoch", "practitioner", "lastSyncAt", "link"].map(store.getMeta));
  assert.deepEqual(kept, [7, "e1", { name: "Hedda Marrow" }, NOW, "ok"]);
});

test("a routine counts from the day on which it came, and is received once for each version", async () => {
  const bundle = (/** @type {string} */ hash, /** @type {number} */ version) => ({ hash, routine: { version } });
  await take({ bundle: bundle("h1", 1), bundle_hash: "h1", anchors: { right: "one" } });
  await take({ bundle: bundle("h2", 1), bundle_hash: "h2", anchors: { right: "two" } });
  await take({ bundle: bundle("h3", 2), bundle_hash: "h3", anchors: { right: "three" } });
  assert.deepEqual(
    (await store.events()).map(({ kind, on, body }) => [kind, on, body]),
    [
      ["routine_received", "2026-03-02", { version: 1, bundle: "h1" }],
      ["routine_received", "2026-03-02", { version: 2, bundle: "h3" }],
    ],
  );
  assert.deepEqual([(await store.bundle()).hash, (await store.bundle("h1")).hash], ["h3", "h1"]);
  assert.deepEqual(await store.anchors(), { right: "three" });
});

test("anchors of another bundle than the one that is held are left aside", async () => {
  const bundle = { hash: "h1", routine: { version: 1 } };
  await take({ bundle, bundle_hash: "h1", anchors: { right: "one" } });
  await take({ bundle_hash: "h2", anchors: { right: "of another" } });
  assert.deepEqual(await store.anchors(), { right: "one" });
  await take({ bundle_hash: "h1", anchors: { right: "newer" } });
  assert.deepEqual(await store.anchors(), { right: "newer" });
});

test("of entries that are added together all are kept or none", async () => {
  const body = /** @type {any} */ (() => "no storage takes a function");
  await assert.rejects(store.addEvents({ ...DRAFT, id: "a" }, { ...DRAFT, id: "b", body }));
  assert.deepEqual(await rows(), []);
  await add("c");
  assert.deepEqual(
    (await store.events()).map(({ seq }) => seq),
    [1],
  );
});
