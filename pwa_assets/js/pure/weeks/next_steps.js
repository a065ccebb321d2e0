/**
 * Where the ladder goes from here, looked up in the almanac: what the next changes would be if every day were settled.
 *
 * @typedef {{days: number, change: import("../dose/dose_change.js").DoseChange, dose: import("../../wire.js").Dose}} NextStep
 *   days: the settled days it takes, counted from the step before it
 */

import { doseOf, nextOf } from "../dose/almanac.js";
import { asks, doseChange } from "../dose/dose_change.js";

/** No step takes longer. Where nothing changes for so long, the ladder is at its end. */
const LONGEST_DAYS = 60;

/**
 * @param {import("../../wire.js").Bundle} bundle
 * @param {{position: import("../dose/almanac.js").Position, dose: import("../../wire.js").Dose}} day today, as it began
 * @param {number} most
 * @returns {NextStep[]} none for an arm that rests or is held, or at the end of the ladder
 */
export function nextSteps(bundle, day, most) {
  /** @type {NextStep[]} */
  const steps = [];
  if (day.dose.mode !== "training") return steps;
  let { position, dose } = day;
  for (let days = 1; days <= LONGEST_DAYS && steps.length < most; days += 1) {
    position = nextOf(bundle, position, "settled").position;
    const after = doseOf(bundle, position);
    if (asks(after) === asks(dose)) continue;
    steps.push({ days, change: doseChange(dose, after), dose: after });
    [dose, days] = [after, 0];
  }
  return steps;
}
