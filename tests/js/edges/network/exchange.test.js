import assert from "node:assert/strict";
import { test } from "node:test";
import { exchange } from "../../../../pwa_assets/js/edges/network/exchange.js";

/** A phone with one waiting entry, and a server that always answers the same. @param {any} outcome */
function phoneBefore(outcome) {
  const rows = [{ id: "a", client: "ansgar0001", state: "waiting", event: { id: "a" } }];
  /** @type {Record<string, any>} */
  const meta = { client: "ansgar0001", device: "d", epoch: "e", cursor: 0, bundleHash: "h" };
  const store = {
    unsent: async () => rows.filter((row) => row.state === "waiting"),
    getMeta: async (/** @type {string} */ key) => meta[key],
    setMeta: async (/** @type {string} */ key, /** @type {any} */ value) => void Object.assign(meta, { [key]: value }),
  };
  const clock = { today: () => "2026-03-02", zone: () => "Europe/Lisbon", now: () => 0 };
  const talk = () =>
    exchange(
      /** @type {any} */ (store),
      /** @type {any} */ (clock),
      /** @type {any} */ ({ sync: () => outcome }),
      "en",
    );
  return { rows, meta, talk };
}

for (const code of ["nothing_kept", "to_confirm", "failed"]) {
  test(`where the server says 503 ${code}, the entry waits and the phone tries again later`, async () => {
    const refusal = { kind: "refused", status: 503, code, message: "Later.", waitSeconds: 0 };
    const { rows, meta, talk } = phoneBefore(refusal);
    assert.deepEqual(await talk(), { phase: "waiting", message: "Later.", waitSeconds: 0 });
    assert.deepEqual([rows[0].state, meta.link], ["waiting", code === "to_confirm" ? code : undefined]);
  });
}

test("where the phone is not joined any more, it says so and its entry still waits", async () => {
  const refusal = { kind: "refused", status: 401, code: "not_joined", message: "Join again.", waitSeconds: 0 };
  const { rows, meta, talk } = phoneBefore(refusal);
  assert.equal((await talk()).phase, "signed_out");
  assert.deepEqual([rows[0].state, meta.link], ["waiting", "signed_out"]);
});
