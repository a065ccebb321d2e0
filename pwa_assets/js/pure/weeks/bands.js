/**
 * What a morning's number stands for, looked up in the cube: after a whole calm session, and no higher than the mornings before.
 *
 * @typedef {{name: "settled"|"tender"|"flared"|"sharp", low: number, high: number}} Band ratings, both ends included
 */

import { NOTHING_YET, responseOf } from "../dose/almanac.js";

/** @type {Record<string, Band["name"]>} */
const NAMES = { settled: "settled", tender: "tender", tender_over: "tender", flared: "flared", sharp: "sharp" };
const HIGHEST = 10;

/**
 * @param {import("../../wire.js").Bundle} bundle
 * @returns {Band[]} from 0 to 10, the lowest first; neighbours differ
 */
export function bandsOf(bundle) {
  /** @type {Band[]} */
  const bands = [];
  for (let morning = 0; morning <= HIGHEST; morning += 1) {
    const response = responseOf(bundle, { ...NOTHING_YET, sessions: 1, done: "enough", during: 0, morning }, morning);
    const [name, last] = [NAMES[response] ?? "tender", bands.at(-1)];
    if (last?.name === name) last.high = morning;
    else bands.push({ name, low: morning, high: morning });
  }
  return bands;
}

/** @param {Band[]} bands @param {Band["name"]} name @returns {number} its lowest rating; over all ratings where there is none */
export const lowOf = (bands, name) => bands.find((band) => band.name === name)?.low ?? HIGHEST + 1;

/** @param {Band[]} bands @returns {number} the highest rating of a settled morning; -1 where there is none */
export const calmOf = (bands) => bands.find(({ name }) => name === "settled")?.high ?? -1;
