import assert from "node:assert/strict";
import { test } from "node:test";
import { MOST_CHARACTERS, MOST_EVENTS, nextBatch } from "../../../../pwa_assets/js/pure/sync/batch.js";

const entries = (/** @type {number} */ count, /** @type {number} */ letters) =>
  Array.from({ length: count }, (_, i) => ({ id: i, note: "x".repeat(letters) }));

test("the first events go first, no more than are asked for", () => {
  assert.deepEqual(
    nextBatch(entries(5, 10), 3).map(({ id }) => id),
    [0, 1, 2],
  );
  assert.equal(nextBatch(entries(500, 10), MOST_EVENTS).length, MOST_EVENTS);
  assert.deepEqual(nextBatch([], MOST_EVENTS), []);
});

test("events that are too long together go apart", () => {
  const batch = nextBatch(entries(10, 60_000), MOST_EVENTS);
  assert.equal(batch.length, 2);
  assert.ok(JSON.stringify(batch).length <= MOST_CHARACTERS);
});

test("a hundred events go together, as many as the server takes, and not one more", () => {
  assert.equal(nextBatch(entries(100, 10), MOST_EVENTS).length, 100);
  assert.equal(nextBatch(entries(101, 10), MOST_EVENTS).length, 100);
});

test("events go together up to 150,000 characters, and not with one more", () => {
  const [first, second] = entries(2, 0);
  const room = 150_000 - JSON.stringify(first).length - JSON.stringify(second).length;
  const filled = (/** @type {number} */ letters) => [first, { ...second, note: "x".repeat(letters) }];
  const lengths = [0, 1].map((more) =>
    filled(room + more).reduce((sum, entry) => sum + JSON.stringify(entry).length, 0),
  );
  assert.deepEqual(lengths, [150_000, 150_001]);
  assert.deepEqual(
    [0, 1].map((more) => nextBatch(filled(room + more), MOST_EVENTS).length),
    [2, 1],
  );
});

test("one event that is too long goes alone, so that it never blocks the rest", () => {
  const [huge, ...rest] = [...entries(1, MOST_CHARACTERS * 2), ...entries(3, 10)];
  assert.deepEqual(nextBatch([huge, ...rest], MOST_EVENTS), [huge]);
  assert.deepEqual(nextBatch([rest[0], huge], MOST_EVENTS), [rest[0]]);
});
