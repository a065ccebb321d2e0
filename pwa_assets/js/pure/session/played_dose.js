/**
 * A day's dose as it will be played in the chosen ways, so that the day page shows what Start plays. Pure.
 *
 * @typedef {import("./timeline.js").Step} Step
 * @typedef {import("../../wire.js").Dose} Dose
 * @typedef {Omit<Dose["sets"][number], "load_kg"|"load"> & {load_kg?: number, load: string|null}} PlayedSet
 * @typedef {Omit<Dose, "sets"> & {sets: PlayedSet[]}} PlayedDose
 */

import { armsOf } from "./run.js";

/**
 * @param {import("../../wire.js").Dose} dose of one arm, as the bundle has it
 * @param {string} arm
 * @param {Step[]} steps of the session as it will be played
 * @returns {PlayedDose|null} only the sets and holds that are played, with their reps and weights; null where the arm plays no step
 */
export function playedDose(dose, arm, steps) {
  const own = steps.filter((step) => armsOf(step.arm).includes(arm));
  if (own.length === 0) return null;
  const sets = dose.sets.flatMap((set) => {
    const step = own.find(({ movement, kind }) => movement === set.movement && kind === "reps");
    return step ? [{ ...set, reps: step.reps, load_kg: step.load_kg, load: step.load_kg ? set.load : null }] : [];
  });
  const holds = dose.holds.filter((hold) => own.some(({ movement }) => movement === hold.movement));
  return { ...dose, sets, holds };
}
