import assert from "node:assert/strict";
import { test } from "node:test";
import { doseChange } from "../../../../pwa_assets/js/pure/dose/dose_change.js";

const SET = /** @type {any} */ ({ reps: 12, load: "1 kg", range: 1 });
const DOSE = /** @type {any} */ ({ mode: "training", sessions: 1, sets: [SET, { ...SET, reps: 8 }] });
const REST = /** @type {any} */ ({ mode: "resting", sessions: 0, sets: [] });

/** @param {object} change of every set @param {object} [other] */
const to = (change, other = {}) => ({
  ...DOSE,
  sets: DOSE.sets.map((/** @type {object} */ set) => ({ ...set, ...change })),
  ...other,
});

test("the lever that moved names the change, with its new value and today's reps", () => {
  assert.deepEqual(doseChange(DOSE, to({ reps: 15 })), {
    kind: "reps",
    reps: 15,
    load: "1 kg",
    range: 1,
    sessions: 1,
    now: 12,
  });
  assert.equal(doseChange(DOSE, to({ range: 0.75 })).kind, "range");
  assert.equal(doseChange(DOSE, to({}, { sessions: 2 })).kind, "sessions");
});

test("another weight is named before the reps or the range that change with it", () => {
  const { kind, load } = doseChange(DOSE, to({ load: "1.5 kg", reps: 8 }));
  assert.deepEqual([kind, load], ["load", "1.5 kg"]);
  assert.equal(doseChange(DOSE, to({ load: "0.5 kg", range: 0.75 })).kind, "load");
});

test("rest and hold are named whatever else changed, and a return names the whole dose", () => {
  assert.equal(doseChange(DOSE, REST).kind, "rest");
  assert.equal(doseChange(REST, { ...REST, mode: "held" }).kind, "held");
  assert.equal(doseChange(REST, DOSE).kind, "whole");
});

test("an equal dose is no change, even if it is another object", () => {
  assert.equal(doseChange(DOSE, DOSE).kind, "same");
  assert.equal(doseChange(DOSE, to({})).kind, "same");
  assert.equal(doseChange(REST, { ...REST }).kind, "rest");
});
