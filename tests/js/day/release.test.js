import assert from "node:assert/strict";
import { test } from "node:test";
import { seen } from "../../../pwa_assets/js/day/release.js";
import { BUNDLE, event, sessionBody, sets } from "../small_bundle.js";

const [SUNDAY, MONDAY, TUESDAY] = ["2026-03-08", "2026-03-09", "2026-03-10"];
const SAID = { rung: 1, range: 0.5, reason: "Looked at, and calm.", by: "Hedda Marrow" };
const STOP = event(1, "warning_raised", SUNDAY, { sign: "numb", arms: ["right"] });
const TRAINING = { arm: "right", dose: { mode: "training" }, isHeldNow: false };
const HELD = { arm: "right", dose: { mode: "held" }, isHeldNow: false };

/** @param {number} seq @param {string} on @param {any} [said] */
const release = (seq, on, said = {}) =>
  event(seq, "hold_released", on, { arms: { right: { ...SAID, covers: [STOP.id], ...said } } });

/** @param {number} seq @param {string} on @param {number} share */
const session = (seq, on, share) =>
  event(
    seq,
    "session_finished",
    on,
    sessionBody({ right: { worst: 1, sharp: false, sets: sets(share, share ? 8 : 0) } }),
  );

/** @param {any[]} events @param {any} day */
const shown = (events, day) =>
  seen(/** @type {any} */ ({ bundle: BUNDLE, events: [STOP, ...events], today: MONDAY, days: [day] }));

test("a release is shown, with by whom and why, until a session of that arm is done", () => {
  const expected = { arm: "right", on: MONDAY, isLater: false, reason: SAID.reason, by: SAID.by };
  assert.deepEqual(shown([release(2, MONDAY)], TRAINING), [expected]);
  assert.deepEqual(shown([release(2, MONDAY), session(3, MONDAY, 0)], TRAINING), [expected]);
  assert.equal(shown([release(2, MONDAY), session(3, MONDAY, 1000)], TRAINING), null);
});

test("a session before the release does not hide it", () => {
  assert.equal(shown([session(3, SUNDAY, 1000), release(4, MONDAY)], TRAINING)?.length, 1);
});

test("a release that starts tomorrow says so while the arm is held", () => {
  assert.equal(shown([release(2, TUESDAY)], HELD)?.[0].isLater, true);
  assert.equal(shown([release(2, TUESDAY)], { ...TRAINING, isHeldNow: true })?.[0].on, TUESDAY);
});

test("a release that does not count is not shown, and none for an arm that is held again", () => {
  assert.equal(shown([release(2, MONDAY, { covers: [] })], HELD), null);
  assert.equal(shown([release(2, MONDAY)], { ...TRAINING, isHeldNow: true }), null);
});

test("of several releases the newest is shown, and nothing where there is none", () => {
  const events = [release(2, SUNDAY, { reason: "Before." }), release(3, MONDAY)];
  assert.deepEqual(
    shown(events, TRAINING)?.map(({ reason }) => reason),
    [SAID.reason],
  );
  assert.equal(shown([], TRAINING), null);
});
