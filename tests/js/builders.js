/**
 * Builders for the scripts' tests: steps of a session, and the golden files that Python wrote.
 * Every builder returns a valid value; a test names only the fields that its story needs.
 */

import { readFileSync } from "node:fs";

/** @typedef {import("../../pwa_assets/js/pure/session/timeline.js").Step} Step */

/** @param {Step["kind"]} kind @param {number} seconds @param {Partial<Step>} [other] @returns {Step} */
export function step(kind, seconds, other = {}) {
  const plain = { movement: "palm_down", reps: 0, up: 0, down: 0, range: 1, load: "", name: "", cue: "", hint: "" };
  return { kind, seconds, ...plain, arm: "right", ...other };
}

/** @param {number} count each two seconds up and three down @param {Partial<Step>} [other] @returns {Step} */
export function reps(count, other = {}) {
  return step("reps", count * 5, { reps: count, up: 2, down: 3, ...other });
}

/** 10 s to get ready, 4 reps of 5 s, 20 s of rest, a hold of 30 s: 80 s in all. @returns {Step[]} */
export function shortSession() {
  return [step("prepare", 10), reps(4), step("rest", 20), step("hold", 30), step("done", 0)];
}

/** @param {Step[]} steps @param {any[]} [arms] @param {any} [repWork] */
export const planWith = (steps, arms = [], repWork = {}) => {
  return { on: "2026-03-02", routineVersion: 3, bundleHash: "ab12", arms, steps, repWork };
};

/** @param {string} name of a file in tests/vectors @returns {any} */
export const golden = (name) => JSON.parse(readFileSync(new URL(`../vectors/${name}`, import.meta.url), "utf8"));

/** @param {any} bundle @param {any} dose @returns {any[]} the steps of one arm's sheet */
export const sheetOf = (bundle, dose) => bundle.sheets[dose.sheet].map((/** @type {number} */ at) => bundle.steps[at]);
