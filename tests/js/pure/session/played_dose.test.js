import assert from "node:assert/strict";
import { test } from "node:test";
import { joinSheets } from "../../../../pwa_assets/js/pure/dose/today.js";
import { playedDose } from "../../../../pwa_assets/js/pure/session/played_dose.js";
import { PLAIN, shaped } from "../../../../pwa_assets/js/pure/session/ways.js";
import { golden, planWith, sheetOf } from "../../builders.js";

const SESSION = golden("session.json");
const DOSE = SESSION.doses.findLast(
  (/** @type {any} */ dose) => dose.sport && dose.holds.length && dose.sets[0].load_kg > 0,
);

/** @param {object} ways @param {object} [other] of each arm @returns {any[]} the steps that are played */
function played(ways, other = {}) {
  const arms = ["right", "left"].map((arm) => ({ arm, dose: DOSE, sheet: sheetOf(SESSION, DOSE), ...other }));
  return shaped(SESSION, planWith(joinSheets(SESSION, arms), arms), { ...PLAIN, ...ways }).steps;
}

/** @param {any} dose */
const counts = (dose) => dose.sets.map((/** @type {any} */ set) => set.reps);

test("the plain way plays the dose as it stands", () => {
  assert.deepEqual(playedDose(DOSE, "left", played({})), DOSE);
});

test("a short day and what is left after sport have the counts that the bundle has for them", () => {
  assert.deepEqual(counts(playedDose(DOSE, "right", played({ part: "short" }))), SESSION.counts[DOSE.short]);
  const after = SESSION.counts[DOSE.sport[1]].filter((/** @type {number} */ reps) => reps);
  assert.deepEqual(counts(playedDose(DOSE, "right", played({}, { isAfterSport: true }))), after);
});

test("a warm-up before sport has no weight and no stretch", () => {
  const { sets, holds } = playedDose(DOSE, "right", played({ part: "before_sport" })) ?? { sets: [], holds: null };
  assert.deepEqual(counts({ sets }), SESSION.counts[DOSE.sport[0]].filter(Boolean));
  assert.ok(sets.every((/** @type {any} */ set) => set.load_kg === 0 && set.load === null));
  assert.deepEqual(holds, []);
});

test("an arm that is not played has no dose, and both at once is each", () => {
  assert.equal(playedDose(DOSE, "left", played({ arms: "right" })), null);
  assert.deepEqual(playedDose(DOSE, "left", played({ arms: "both" })), DOSE);
});
