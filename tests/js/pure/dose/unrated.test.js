import assert from "node:assert/strict";
import { test } from "node:test";
import { factsOf } from "../../../../pwa_assets/js/pure/dose/daybook.js";
import { ratedBodies, unratedArms } from "../../../../pwa_assets/js/pure/dose/unrated.js";
import { event, sessionBody } from "../../small_bundle.js";

const [MONDAY, TUESDAY] = ["2026-03-02", "2026-03-03"];
const ARMS = ["right", "left"];
const NOTHING_DONE = [{ movement: "palm_down", reps: 0, load_kg: 0, range: 1, share: 0 }];

/** @param {number} seq @param {Record<string, any>} arms */
const session = (seq, arms) => event(seq, "session_finished", MONDAY, sessionBody(arms, { note: "kept" }));

test("an arm is asked for yesterday's rating only where it did reps that nobody rated", () => {
  const log = [session(1, { right: { worst: null }, left: { worst: 2 } })];
  assert.deepEqual(unratedArms(log, MONDAY, ARMS), ["right"]);
  assert.deepEqual(unratedArms(log, TUESDAY, ARMS), []);
  assert.deepEqual(unratedArms([session(1, { right: { worst: null, sets: NOTHING_DONE } })], MONDAY, ARMS), []);
  assert.deepEqual(unratedArms([session(1, { right: { worst: null, sharp: true } })], MONDAY, ARMS), []);
});

test("the answer is a correction with the session's whole body, and the day is then rated", () => {
  const [first, second] = [
    session(1, { right: { worst: null }, left: { worst: null } }),
    session(2, { right: { worst: 1 } }),
  ];
  const bodies = ratedBodies([first, second], MONDAY, { right: 4, left: null });
  assert.deepEqual(bodies, [
    {
      replaces: first.id,
      body: { ...first.body, arms: { ...first.body.arms, right: { ...first.body.arms.right, worst: 4 } } },
    },
  ]);
  const log = [first, second, event(3, "entry_corrected", TUESDAY, bodies[0])];
  const { during, isUnrated } = factsOf(log, "right").get(MONDAY) ?? {};
  assert.deepEqual({ during, isUnrated }, { during: 4, isUnrated: false });
  assert.deepEqual(unratedArms(log, MONDAY, ARMS), ["left"]);
});

test("a question that was left open corrects nothing", () => {
  assert.deepEqual(ratedBodies([session(1, { right: { worst: null } })], MONDAY, { right: null }), []);
});
