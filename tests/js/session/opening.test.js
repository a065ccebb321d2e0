import assert from "node:assert/strict";
import { test } from "node:test";
import { newRun } from "../../../pwa_assets/js/pure/session/run.js";
import { openSession } from "../../../pwa_assets/js/session/opening.js";
import { planWith, shortSession } from "../builders.js";
import { BUNDLE } from "../small_bundle.js";

const TODAY = "2026-03-02";
const RUN = { ...newRun(planWith(shortSession(), [{ arm: "right", dose: BUNDLE.doses[0] }]), "run-1"), step: 1 };
const FREE = { waitsFor: "nothing" };
const TRAINING = { to: "training" };

/** @param {any} snapshot its days and its start @returns {Promise<[string|undefined, string[]]>} the run that opens, and the pages that were gone to */
async function opened(snapshot) {
  /** @type {string[]} */
  const went = [];
  const store = {
    takeRun: async () => RUN,
    bundle: async () => BUNDLE,
    getMeta: async () => undefined,
    snapshot: async () => ({ course: TRAINING, ...snapshot }),
  };
  const clock = { today: () => TODAY, now: () => 1 };
  const go = (/** @type {string} */ hash) => void went.push(hash);
  const edges = /** @type {any} */ ({ store, clock, go, words: {}, voice: { find: () => undefined } });
  const found = await openSession(edges, null, new AbortController().signal);
  return [found?.run.id, went];
}

test("an open session goes on while its arm is free, whatever stops the other arm", async () => {
  const days = [
    { arm: "right", isHeldNow: false },
    { arm: "left", isHeldNow: true },
  ];
  assert.deepEqual(await opened({ days, start: FREE }), ["run-1", []]);
});

test("an open session of a stopped arm does not go on", async () => {
  assert.deepEqual(await opened({ days: [{ arm: "right", isHeldNow: true }], start: FREE }), [undefined, ["#day"]]);
});

test("an open session does not go on while the start waits", async () => {
  const days = [{ arm: "right", isHeldNow: false }];
  assert.deepEqual(await opened({ days, start: { waitsFor: "practitioner" } }), [undefined, ["#day"]]);
});

test("an open session does not go on once the practitioner has ended the course", async () => {
  const days = [{ arm: "right", isHeldNow: false }];
  assert.deepEqual(await opened({ days, start: FREE, course: { to: "ended" } }), [undefined, ["#day"]]);
});
