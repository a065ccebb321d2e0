import assert from "node:assert/strict";
import { test } from "node:test";
import { hourOn } from "../../../../pwa_assets/js/pure/calendar/local_day.js";
import { waitOf } from "../../../../pwa_assets/js/pure/dose/between_sessions.js";
import { armDays, planOf } from "../../../../pwa_assets/js/pure/dose/today.js";
import { anchorAt, BUNDLE, event, FIRST, sessionBody, sets } from "../../small_bundle.js";

const TODAY = "2026-03-02";
const ANCHORS = { right: anchorAt(FIRST, TODAY), left: anchorAt(FIRST, TODAY) };
/** @param {string} clock on this day, UTC */
const ms = (clock) => Date.parse(`${TODAY}T${clock}:00Z`);

/** @param {number} seq @param {string} clock @param {string} [arm] @param {object} [other] @param {object} [own] */
const session = (seq, clock, arm = "right", other = {}, own = {}) => ({
  ...event(seq, "session_finished", TODAY, sessionBody({ [arm]: own }, other)),
  at: new Date(ms(clock)).toISOString(),
});

/** @param {any[]} events @param {number} now @param {number} [offset] minutes, as getTimezoneOffset */
function waits(events, now, offset = 0) {
  const time = { now, hourOn: (/** @type {string} */ day, /** @type {number} */ at) => hourOn(day, at, offset) };
  return armDays(BUNDLE, ANCHORS, events, TODAY).map((day) => ({
    ...day,
    wait: waitOf(BUNDLE, events, day, TODAY, time),
  }));
}

test("the second session waits the bundle's hours after the first, and not a minute longer", () => {
  const events = [session(1, "08:12")];
  const [right, left] = waits(events, ms("12:11"));
  assert.deepEqual(right.wait, { after: ms("08:12"), from: ms("12:12"), isTooLate: false, isUnknown: false });
  assert.equal(left.wait, null);
  assert.equal(waits(events, ms("12:12"))[0].wait, null);
});

test("hours are counted between instants, whatever the zone; only the evening is local", () => {
  const events = [session(1, "16:30")];
  assert.equal(waits(events, ms("16:31"))[0].wait?.isTooLate, false);
  assert.equal(waits(events, ms("16:31"), -60)[0].wait?.isTooLate, true);
  assert.equal(waits(events, ms("20:30"), 300)[0].wait, null);
});

test("in the evening, and in the night that still belongs to the day, the second is better left", () => {
  const events = [session(1, "08:00")];
  assert.equal(waits(events, ms("21:00"))[0].wait, null);
  assert.equal(waits(events, ms("21:01"))[0].wait?.isTooLate, true);
  assert.equal(waits(events, ms("23:30") + 3_600_000)[0].wait?.isTooLate, true);
});

test("a session that lies after now says that a clock was changed, and how long ago it was is not known", () => {
  const [right] = waits([session(1, "12:00")], ms("11:00"));
  assert.deepEqual([right.wait?.isUnknown, right.wait?.isTooLate], [true, false]);
});

test("the last session of two phones counts; a warm-up before sport and a session without a rep do not", () => {
  assert.equal(
    waits([session(1, "10:00"), session(2, "08:00", "right", {}, { sets: sets(0, 0) })], ms("10:01"))[0].wait?.from,
    ms("14:00"),
  );
  const warmed = session(1, "08:00", "right", { ways: ["before_sport"] });
  assert.equal(waits([warmed], ms("08:01"))[0].wait, null);
  const after = session(2, "09:00");
  assert.equal(waits([warmed, after], ms("09:01"))[0].wait?.from, ms("13:00"));
});

test("an arm that waits is left out of the session; where every arm waits, the session has all of them", () => {
  const arms = (/** @type {any[]} */ events) =>
    planOf(BUNDLE, waits(events, ms("09:00")), TODAY)?.arms.map(({ arm }) => arm);
  assert.deepEqual(arms([session(1, "08:00")]), ["left"]);
  assert.deepEqual(arms([session(1, "08:00"), session(2, "08:00", "left")]), ["right", "left"]);
});

test("a bundle from before the hours came with it makes nobody wait", () => {
  const old = { ...BUNDLE, apart: undefined };
  const [day] = armDays(old, ANCHORS, [session(1, "08:00")], TODAY);
  assert.equal(waitOf(old, [session(1, "08:00")], day, TODAY, { now: ms("09:00"), hourOn: () => 9 }), null);
});
