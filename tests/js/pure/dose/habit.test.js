import assert from "node:assert/strict";
import { test } from "node:test";
import { chosenHabit, ticksOn } from "../../../../pwa_assets/js/pure/dose/habit.js";
import { event } from "../../small_bundle.js";

const TODAY = "2026-03-09";
/** @param {number} seq @param {string} habit @param {string} [on] */
const choice = (seq, habit, on = "2026-03-02") => event(seq, "habit_chosen", on, { habit, by: "Hedda Marrow" });
/** @param {number} seq @param {string} on @param {string} [habit] @param {object} [more] */
const tick = (seq, on, habit = "warmth", more = {}) => event(seq, "habit_noted", on, { habit, kept: true, ...more });

test("the newest choice counts, and an empty one means none", () => {
  assert.equal(chosenHabit([], TODAY), null);
  assert.equal(chosenHabit([choice(7, "warmth"), choice(5, "sleep")], TODAY)?.id, "warmth");
  assert.equal(chosenHabit([choice(7, "warmth"), choice(9, "")], TODAY), null);
});

test("the last seven days are told, with ticks of this habit only, each taken back or not", () => {
  const log = [
    choice(1, "warmth"),
    tick(2, TODAY),
    tick(3, "2026-03-04"),
    tick(4, "2026-03-05", "sleep"),
    tick(5, "2026-03-02"),
  ];
  const back = event(6, "entry_corrected", TODAY, { replaces: log[1].id, body: null });
  const kept = (/** @type {any[]} */ events) =>
    chosenHabit(events, TODAY)?.days.flatMap(({ on, isKept }) => (isKept ? [on] : []));
  assert.deepEqual(kept(log), ["2026-03-04", TODAY]);
  assert.deepEqual(kept([...log, back]), ["2026-03-04"]);
  assert.equal(chosenHabit(log, TODAY)?.days[0].on, "2026-03-03");
  assert.deepEqual(ticksOn(log, "warmth", TODAY), [log[1].id]);
  assert.deepEqual(ticksOn(log, "sleep", TODAY), []);
});

test("that it does not suit counts until the practice chooses anew", () => {
  const first = choice(1, "warmth");
  const unsuited = tick(3, "2026-03-04", "warmth", { kept: false, suits: false, chosen: first.id });
  assert.equal(chosenHabit([first, unsuited], TODAY)?.isUnsuited, true);
  assert.equal(chosenHabit([first, unsuited, choice(9, "warmth", "2026-03-06")], TODAY)?.isUnsuited, false);
});
