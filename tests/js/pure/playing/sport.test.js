import assert from "node:assert/strict";
import { test } from "node:test";
import {
  dayAround,
  hourOfText,
  isPlanned,
  morningsAfter,
  sportOn,
} from "../../../../pwa_assets/js/pure/playing/sport.js";
import { event } from "../../small_bundle.js";

/** @param {number} seq @param {string} on @param {object} [more] */
const sport = (seq, on, more = {}) => event(seq, "exposure_noted", on, { what: "sport", name: "Climbing", ...more });
/** @param {number} seq @param {string} on @param {Record<string, number>} pains */
const morning = (seq, on, pains) =>
  event(seq, "morning_reported", on, {
    arms: Object.fromEntries(Object.entries(pains).map(([arm, pain]) => [arm, { pain }])),
  });

test("the mornings after sport are told, the latest first, the worse arm of each", () => {
  const log = [
    sport(1, "2026-03-02"),
    morning(2, "2026-03-03", { right: 5, left: 2 }),
    sport(3, "2026-03-06"),
    sport(4, "2026-03-06", { name: "Cycling" }),
    morning(5, "2026-03-07", { right: 6 }),
    sport(6, "2026-03-09"),
    morning(7, "2026-03-12", { right: 9 }),
    sport(8, "2026-03-14"),
  ];
  assert.deepEqual(morningsAfter(log, "2026-03-14", 3), [6, 5]);
  assert.deepEqual(morningsAfter(log, "2026-03-14", 1), [6]);
  assert.deepEqual(morningsAfter([], "2026-03-14", 3), []);
});

test("today's sport is what was noted and not taken back, and no other load", () => {
  const log = [
    sport(1, "2026-03-02"),
    event(2, "exposure_noted", "2026-03-02", { what: "desk" }),
    sport(3, "2026-03-02", { name: "Cycling" }),
  ];
  const back = event(4, "entry_corrected", "2026-03-02", { replaces: log[0].id, body: null });
  assert.deepEqual(
    sportOn([...log, back], "2026-03-02").map(({ body }) => body.name),
    ["Cycling"],
  );
});

test("the warm-up lies before the sport and the rest of the day's work after it", () => {
  assert.deepEqual(dayAround(hourOfText("18:30"), 90), [
    { kind: "dose", from: 18, to: 18.5 },
    { kind: "sport", from: 18.5, to: 20 },
    { kind: "dose", from: 20, to: 20.5 },
  ]);
});

test("sport is planned while its time is to come, and without a time", () => {
  assert.deepEqual([isPlanned("18:30", 12), isPlanned("18:30", 19), isPlanned("", 23)], [true, false, true]);
});
