import assert from "node:assert/strict";
import { test } from "node:test";
import { BASE_SECONDS, CAP_SECONDS, waitBeforeRetry } from "../../../../pwa_assets/js/pure/sync/backoff.js";

test("the longest wait doubles with each failure, up to a cap", () => {
  const longest = [1, 2, 3, 4].map((failures) => waitBeforeRetry(failures, 1));
  assert.deepEqual(
    longest,
    [1, 2, 4, 8].map((times) => times * BASE_SECONDS * 1000),
  );
  assert.equal(waitBeforeRetry(60, 1), CAP_SECONDS * 1000);
  assert.equal(waitBeforeRetry(5000, 1), CAP_SECONDS * 1000);
});

test("chance puts the wait anywhere between nothing and the longest, so that phones do not come at once", () => {
  assert.deepEqual(
    [0, 0.25, 0.5].map((chance) => waitBeforeRetry(3, chance)),
    [0, 5000, 10_000],
  );
});

test("what the server asks for is the least wait", () => {
  assert.equal(waitBeforeRetry(1, 0, 30), 30_000);
  assert.equal(waitBeforeRetry(8, 1, 30), BASE_SECONDS * 128 * 1000);
});
