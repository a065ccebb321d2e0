import assert from "node:assert/strict";
import { test } from "node:test";
import { weightsOf } from "../../../pwa_assets/js/arriving/fetch.js";
import { reps, step } from "../builders.js";

/** @param {string} arm @param {number[]} loads */
const arm = (arm, ...loads) => ({ arm, dose: { sets: loads.map((load_kg) => ({ load_kg })) } });
/** @param {any[]} arms @param {any[]} steps @returns {any} */
const plan = (arms, ...steps) => ({ arms, steps });

test("each weight of the session is named once, and a rest or a stretch names none", () => {
  const steps = [
    step("prepare", 10),
    reps(8, { load: "½ kg" }),
    step("rest", 20),
    reps(8, { load: "½ kg" }),
    step("hold", 30),
  ];
  assert.deepEqual(weightsOf(plan([arm("right", 0.5)], ...steps)), ["½ kg"]);
});

test("an arm that works with the bare hand asks for nothing to hold, beside one that does not", () => {
  const both = [arm("right", 0), arm("left", 0.5)];
  const steps = [reps(8, { load: "no weight" }), reps(8, { arm: "left", load: "½ kg" })];
  assert.deepEqual(weightsOf(plan(both, ...steps)), ["½ kg"]);
  assert.deepEqual(weightsOf(plan([arm("right", 0)], reps(8, { load: "no weight" }))), []);
  assert.deepEqual(weightsOf(null), []);
});
