/**
 * A small but complete bundle: four rungs, a rest, a hold and one cube. It has simple rules of its own, so that a test can state
 * the result without the core.
 */

import { step } from "./builders.js";

export const [FIRST, SECOND, THIRD, FOURTH, RESTING, HELD] = [0, 1, 2, 3, 4, 5];
const [ONE, TOP] = [1, 4];
/** @type {Record<string, string>} */
const LETTERS = {
  s: "settled",
  p: "partly",
  u: "unreported",
  a: "aching",
  b: "aching_untold",
  t: "tender",
  v: "tender_over",
  f: "flared",
  x: "sharp",
  o: "sore",
  g: "flared_idle",
  m: "missed",
};
export const RESPONSES = Object.values(LETTERS);
const DONE = ["none", "part", "enough"];
/** @type {(number|null)[]} */
const RATINGS = [null, ...Array.from({ length: 11 }, (_, rating) => rating)];

/** @param {string} done @param {number} during @param {number} morning @param {number} before -1 for what is not known */
function letterOf(done, during, morning, before) {
  const isIdle = done === "none";
  if (during >= 8 || morning >= 8) return "x";
  if (during >= 6 || morning >= 6 || (before >= 0 && morning >= 3 && morning >= before + 2)) return isIdle ? "g" : "f";
  if (isIdle) return morning > 3 ? "o" : "m";
  if (morning > 2) return morning > 3 ? "v" : "t";
  if (during > 3) return morning < 0 ? "b" : "a";
  if (morning < 0 || during < 0) return "u";
  return done === "part" ? "p" : "s";
}

const cube = DONE.flatMap((done) =>
  RATINGS.flatMap((during) =>
    RATINGS.flatMap((morning) => RATINGS.map((before) => letterOf(done, during ?? -1, morning ?? -1, before ?? -1))),
  ),
).join("");

/** @param {number[]} rows @returns {number[]} each as its distance from the one before it */
const distances = (rows) => rows.map((row, i) => row - (rows[i - 1] ?? 0));

/** A settled day climbs a rung, a flare leads to rest, sharp pain to a hold, and rest ends on the third rung; all else stays. @param {string} response */
function columnOf(response) {
  const same = [FIRST, SECOND, THIRD, FOURTH, THIRD, HELD];
  if (response === "settled") return [SECOND, THIRD, FOURTH, FOURTH, THIRD, HELD];
  if (response === "sharp") return same.map(() => HELD);
  return response.startsWith("flared") ? [RESTING, RESTING, RESTING, RESTING, RESTING, HELD] : same;
}

/** @param {string} response @returns {string[]} none for a missed day */
function whyOf(response) {
  if (response === "settled") return ["climb"];
  if (response === "missed") return [];
  return [response === "sharp" ? "stop" : response];
}

/** @param {number} rung */
function doseOf(rung) {
  const reps = 6 + 2 * rung;
  const sets = ["palm_up", "palm_down"].map((movement) => ({ movement, reps, load_kg: 0.5, load: "0.5 kg", range: 1 }));
  return { mode: "training", sessions: rung === ONE ? 2 : 1, sheet: 0, sets, holds: [] };
}

const idle = { sessions: 0, sheet: null, sets: [], holds: [] };
const DAYS = ["", "", "", "streak", "streak", "streak", "streak", "week", ...Array(6).fill("slow"), "half"];

/** Only what the tests need of a bundle. */
export const BUNDLE = /** @type {any} */ ({
  arms: ["right", "left"],
  hash: "ab12",
  routine: { version: 3 },
  cube,
  ends_day: ["sharp", "flared", "flared_idle"],
  habits: { warmth: { name: "Warmth", text: "Warm it.", caution: "Not when hot.", basis: "none" } },
  apart: { hours: 4, latest: 21 },
  asks: {
    late: 3,
    away: 3,
    long_away: 7,
    sore_days: 3,
    activity_weeks: [0, 2, 4, 8, 12],
    week_reports: 4,
    sore: ["tender", "tender_over", "sore"],
  },
  ranges: [1, 0.75, 0.5],
  rep_work: Object.fromEntries(
    ["palm_up", "palm_down"].map((movement) => [
      movement,
      [0, 0.5].flatMap((kg) => [1, 0.75, 0.5].map((r) => [kg, r, (1 + kg) * r])),
    ]),
  ),
  almanac: {
    responses: RESPONSES,
    letters: LETTERS,
    idle: ["sore", "flared_idle", "missed"],
    next: RESPONSES.map((response) => distances(columnOf(response))),
    why: [0, 0, 0, 0, 1, 1],
    whys: [RESPONSES.map(whyOf), RESPONSES.map((response) => (response === "missed" ? ["still"] : whyOf(response)))],
    dose: [0, 1, 2, 3, 4, 5],
    rung: [ONE, 2, 3, TOP, TOP, TOP],
    mode: ["training", "training", "training", "training", "resting", "held"],
    gap: {
      columns: {
        streak: distances([FIRST, SECOND, THIRD, FOURTH, RESTING, HELD]),
        week: distances([FIRST, FIRST, FIRST, SECOND, RESTING, HELD]),
        slow: distances([FIRST, SECOND, THIRD, FOURTH, RESTING, HELD]),
        start: distances([FIRST, FIRST, FIRST, FIRST, RESTING, HELD]),
        down: distances([FIRST, FIRST, SECOND, THIRD, RESTING, HELD]),
      },
      by_day: [...DAYS, ...Array(13).fill("slow"), "start"],
      half_way: [ONE, ONE, ONE, 2],
      reasons: {
        resume: "gap-resume",
        streak: "gap-streak",
        one: "gap-one-down",
        two: "gap-two-down",
        half: "gap-half",
        start: "gap-start",
      },
    },
    // The offer is the third rung at three quarters, which here asks what the third rung asks.
    release: {
      of: { [HELD]: 0 },
      offers: [
        [
          [3, 1, THIRD],
          [2, 1, SECOND],
          [1, 2, FIRST],
        ],
      ],
    },
  },
  doses: [1, 2, 3, TOP].map(doseOf).concat(
    /** @type {any} */ ([
      { mode: "resting", ...idle },
      { mode: "held", ...idle },
    ]),
  ),
  sheets: [[0, 1]],
  steps: [step("hold", 30), step("done", 0)],
  change_arm: { right: step("change_arm", 15), left: step("change_arm", 15) },
});

/** @param {number} row @returns {import("../../pwa_assets/js/pure/dose/almanac.js").Position} */
export const at = (row, gapDays = 0, gapRung = 0) => ({ row, gapDays, gapRung });

/** An anchor with the same state for every response to the day before. @param {number} row @param {string} on @returns {any} */
export const anchorAt = (row, on, mornings = /** @type {(number|null)[]} */ ([null, null, null])) => ({
  on,
  mornings,
  states: RESPONSES.map(() => /** @type {[number, number, number]} */ ([row, 0, 0])),
  why: RESPONSES.map((response) => [response === "sharp" ? "stop" : "climb"]),
});

/** @param {number} share of each direction, per mille @param {number} [reps] */
export const sets = (share, reps = 8) =>
  ["palm_up", "palm_down"].map((movement) => ({ movement, reps, load_kg: 0.5, range: 1, share }));

/** The body of a session, which fits its kind. @param {Record<string, object>} arms fields for each arm @param {object} [other] @returns {any} */
export const sessionBody = (arms, other = {}) => ({
  routine: 3,
  arms: Object.fromEntries(
    Object.entries(arms).map(([arm, own]) => [arm, { worst: 2, sharp: false, sets: sets(1000), ...own }]),
  ),
  asked_steps: 4,
  done_steps: 4,
  active_seconds: 300,
  ended: "completed",
  ...other,
});

/** @param {number} seq which also makes its id @param {string} kind @param {string} on @param {any} body @returns {any} */
export const event = (seq, kind, on, body) => ({
  id: `01920000-0000-7000-8000-${String(seq).padStart(12, "0")}`,
  kind,
  v: 1,
  on,
  at: "",
  zone: "",
  seq,
  body,
});
