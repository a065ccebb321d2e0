import assert from "node:assert/strict";
import { test } from "node:test";
import { inUnit, KG_OF_UNIT, writtenAs } from "../../../../pwa_assets/js/pure/dose/units.js";

const { lb: POUND } = KG_OF_UNIT;
const write = (/** @type {number} */ amount, /** @type {string} */ unit) => `${Math.round(amount * 100) / 100} ${unit}`;
const set = (/** @type {string} */ load, /** @type {number} */ load_kg) => ({ movement: "palm_down", load, load_kg });
/** @param {[string, number][]} loads */
const bundleWith = (...loads) =>
  /** @type {any} */ ({
    hash: "ab12",
    doses: [{ sets: loads.map(([load, kg]) => set(load, kg)) }],
    steps: loads.map(([load]) => ({ load, cue: `Palm down: 12 times, ${load}.` })),
  });
/** @param {any} bundle @returns {[string[], string[]]} */
const saidIn = ({ doses, steps }) => [
  doses[0].sets.map((/** @type {any} */ each) => each.load),
  steps.map((/** @type {any} */ each) => each.cue),
];

test("a weight that is written in pounds is read in kilograms beside what is written on it, in the dose and in what is said", () => {
  const bundle = bundleWith(["no weight", 0], ["1 lb", POUND], ["½ kg", 0.5]);
  const [loads, cues] = saidIn(inUnit(bundle, "kg", write));
  assert.deepEqual(loads, ["no weight", "0.45 kg (1 lb)", "½ kg"]);
  assert.equal(cues[1], "Palm down: 12 times, 0.45 kg (1 lb).");
});

test("a weight that is written in the chosen unit stays as it is, to the letter", () => {
  const bundle = bundleWith(["1 lb", POUND], ["2½ lb", 2.5 * POUND], ["1.33 lb", 1.33 * POUND]);
  assert.equal(inUnit(bundle, "lb", write), bundle);
  assert.equal(inUnit(bundle, "own", write), bundle);
  assert.deepEqual(saidIn(inUnit(bundleWith(["½ kg", 0.5]), "lb", write))[0], ["1.1 lb (½ kg)"]);
});

test("nothing but words changes", () => {
  const bundle = bundleWith(["1 lb", POUND]);
  const changed = inUnit(bundle, "kg", write);
  assert.deepEqual([changed.hash, changed.doses[0].sets[0].load_kg], ["ab12", POUND]);
  assert.equal(bundle.doses[0].sets[0].load, "1 lb");
});

test("a weight of an earlier routine is named in the unit that is written on it", () => {
  assert.deepEqual(writtenAs(2 * POUND), { unit: "lb", amount: 2 });
  assert.deepEqual(writtenAs(0.75), { unit: "kg", amount: 0.75 });
  assert.deepEqual(writtenAs(0.123), { unit: "kg", amount: 0.12 });
});
