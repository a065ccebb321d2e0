import assert from "node:assert/strict";
import { test } from "node:test";
import { createTouch } from "../../../../pwa_assets/js/edges/sound/touch.js";

const KINDS = /** @type {const} */ (["step", "up", "down", "half", "tick", "arm", "end"]);

test("each kind of tone is felt in a pattern of its own", () => {
  /** @type {string[]} */
  const felt = [];
  const vibrate = (/** @type {number[]} */ pattern) => felt.push(String(pattern));
  Object.defineProperty(globalThis, "navigator", { value: { vibrate }, configurable: true });
  const touch = createTouch();
  for (const kind of KINDS) touch.buzz(kind);
  assert.equal(new Set(felt).size, KINDS.length);
});
