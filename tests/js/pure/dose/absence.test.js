import assert from "node:assert/strict";
import { test } from "node:test";
import { addDays } from "../../../../pwa_assets/js/pure/calendar/local_day.js";
import { absenceOf, earlierMornings } from "../../../../pwa_assets/js/pure/dose/absence.js";
import { armDays, isLongSore } from "../../../../pwa_assets/js/pure/dose/today.js";
import { anchorAt, BUNDLE, event, FIRST, sessionBody } from "../../small_bundle.js";

const BEGAN = "2026-03-02";
const day = (/** @type {number} */ number) => addDays(BEGAN, number);
const RECEIVED = event(1, "routine_received", BEGAN, { version: 3 });

/** @param {number} seq @param {string} on @param {Record<string, number>} pains @param {object} [more] */
const morning = (seq, on, pains, more = {}) =>
  event(seq, "morning_reported", on, {
    arms: Object.fromEntries(Object.entries(pains).map(([arm, pain]) => [arm, { pain, sharp: false }])),
    ...more,
  });
/** @param {number} seq @param {string} on */
const session = (seq, on) => event(seq, "session_finished", on, sessionBody({ right: {} }));
/** @param {string} on */
const anchors = (on) => ({ right: anchorAt(FIRST, on), left: anchorAt(FIRST, on) });

test("three mornings before today may be told or corrected; a morning of one arm is not whole", () => {
  const events = [RECEIVED, morning(2, day(8), { right: 3, left: 1 }), morning(3, day(7), { right: 2 })];
  assert.deepEqual(earlierMornings(BUNDLE, anchors(day(7)), events, day(10)), [
    { on: day(9), pains: {}, isWhole: false },
    { on: day(8), pains: { right: 3, left: 1 }, isWhole: true },
    { on: day(7), pains: { right: 2 }, isWhole: false },
  ]);
});

test("no morning is asked for that the phone could not decide itself: none before the anchors or the first day", () => {
  const days = (/** @type {string} */ anchor, /** @type {string} */ today, /** @type {any[]} */ ...more) =>
    earlierMornings(BUNDLE, anchors(anchor), [RECEIVED, ...more], today).map(({ on }) => on);
  assert.deepEqual(days(day(9), day(10)), [day(9)]);
  assert.deepEqual(days(day(10), day(10)), []);
  assert.deepEqual(days(day(-9), day(2)), [day(1)]);
  assert.deepEqual(days(day(-9), day(1), morning(2, day(0), { right: 1, left: 1 })), [day(0)]);
  assert.deepEqual(days(day(0), day(30)), [day(29), day(28), day(27)]);
});

test("days without a word are asked about from three on, and are long from seven on", () => {
  const events = [RECEIVED, session(2, day(4))];
  assert.equal(absenceOf(BUNDLE, events, day(7)), null);
  assert.deepEqual(absenceOf(BUNDLE, events, day(8)), { first: day(5), last: day(7), days: 3, isLong: false });
  assert.equal(absenceOf(BUNDLE, events, day(11))?.isLong, false);
  assert.equal(absenceOf(BUNDLE, events, day(12))?.isLong, true);
});

test("a word of today, or of a day to come by a wrong clock, hides no absence; one in between does", () => {
  const events = [RECEIVED, session(2, day(4)), morning(3, day(12), { right: 1 }), session(4, day(40))];
  assert.equal(absenceOf(BUNDLE, events, day(12))?.days, 7);
  assert.equal(absenceOf(BUNDLE, [...events, morning(5, day(11), { right: 1 }, { late: true })], day(12)), null);
});

test("what was told is not asked again, unless it covers fewer days", () => {
  const events = [RECEIVED, session(2, day(4))];
  const noted = (/** @type {string} */ last) => event(3, "away_noted", day(9), { first: day(5), last, what: "ill" });
  assert.equal(absenceOf(BUNDLE, [...events, noted(day(8))], day(9)), null);
  assert.equal(absenceOf(BUNDLE, [...events, noted(day(8))], day(10))?.days, 5);
});

test("an old bundle, or a phone without a routine, asks for nothing", () => {
  const old = { ...BUNDLE, asks: undefined };
  assert.deepEqual([earlierMornings(old, {}, [RECEIVED], day(9)), absenceOf(old, [RECEIVED], day(9))], [[], null]);
  assert.deepEqual([earlierMornings(BUNDLE, {}, [], day(9)), absenceOf(null, [RECEIVED], day(9))], [[], null]);
});

test("past the third sore day the report asks for more than soreness, and a calm day ends that", () => {
  const sore = [3, 3, 3].map((pain, at) => morning(10 + at, day(at + 1), { right: pain }));
  const sessions = [0, 1, 2].map((at) => session(20 + at, day(at)));
  const isAsked = (/** @type {any[]} */ events, /** @type {number} */ today) =>
    isLongSore(BUNDLE, armDays(BUNDLE, anchors(day(0)), [...sessions, ...events], day(today))[0]);
  assert.equal(isAsked(sore, 4), true);
  assert.equal(isAsked(sore, 3), false);
  assert.equal(isAsked([...sore.slice(0, 2), morning(12, day(3), { right: 1 })], 4), false);
});
