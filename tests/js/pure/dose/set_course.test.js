import assert from "node:assert/strict";
import { test } from "node:test";
import { isKept, seen } from "../../../../pwa_assets/js/day/finishing.js";
import { addDays } from "../../../../pwa_assets/js/pure/calendar/local_day.js";
import { absenceOf, earlierMornings } from "../../../../pwa_assets/js/pure/dose/absence.js";
import { courseOn, courseToday } from "../../../../pwa_assets/js/pure/dose/set_course.js";
import { anchorAt, BUNDLE, event, FIRST, sessionBody, sets } from "../../small_bundle.js";

const BEGAN = "2026-03-02";
const day = (/** @type {number} */ number) => addDays(BEGAN, number);
const RECEIVED = event(1, "routine_received", BEGAN, { version: 3 });
const TRAINING_ARM = { isHeldNow: false, dose: { mode: "training" } };

/** @param {number} seq @param {number} on @param {string} to @param {object} [more] */
const set = (seq, on, to, more = {}) =>
  event(seq, "course_set", day(on), {
    to,
    ...(to === "maintenance" ? { days_a_week: 2 } : {}),
    reason: `Reason ${seq}.`,
    by: "Hedda Marrow",
    ...more,
  });
/** @param {number} seq @param {number} on */
const session = (seq, on) =>
  event(seq, "session_finished", day(on), sessionBody({ right: { worst: 1, sharp: false, sets: sets(1000, 8) } }));
/** @param {any[]} events @param {number} on @param {any[]} [arms] */
const today = (events, on, arms = [TRAINING_ARM]) => courseToday(BUNDLE, [RECEIVED, ...events], day(on), arms);

test("the last course that has begun counts, by its day and then by the log's number; without one it is training", () => {
  const events = [set(5, 3, "maintenance"), set(3, 9, "ended"), set(6, 3, "ended"), set(4, 3, "training")];
  const found = [2, 3, 8, 9].map((on) => courseOn(events, day(on)));
  assert.deepEqual(
    found.map(({ to, since }) => [to, since]),
    [
      ["training", null],
      ["ended", day(3)],
      ["ended", day(3)],
      ["ended", day(9)],
    ],
  );
  assert.equal(courseOn([set(2, 3, "maintenance", { days_a_week: 6 })], day(4)).to, "training");
});

test("maintenance is free once as many of the last seven days are done, and asks again when one of them is a week old", () => {
  const events = [set(2, 10, "maintenance"), session(3, 10), session(4, 11)];
  const free = Array.from({ length: 8 }, (_, at) => today(events, 11 + at).isFree);
  assert.deepEqual(free, [false, true, true, true, true, true, false, false]);
  const { done, doneNow, next, isMorningAsked } = today(events, 12);
  assert.deepEqual(
    { done, doneNow, next, isMorningAsked },
    { done: 2, doneNow: 2, next: day(17), isMorningAsked: true },
  );
  assert.equal(today(events, 13).isMorningAsked, false);
  assert.deepEqual([today(events, 11).done, today(events, 11).doneNow, today(events, 11).next], [1, 2, day(17)]);
});

test("who does as asked never goes a week without a session, whatever days are chosen", () => {
  for (let start = 0; start < 7; start += 1) {
    const events = [set(2, 0, "maintenance"), session(3, 0), session(4, start)];
    let on = start + 1;
    while (today(events, on).isFree) on += 1;
    assert.ok(on - start <= 7, `${start}: ${on}`);
  }
});

test("a rest stands above maintenance and the end: its morning is asked for, and no day is free", () => {
  const resting = [{ isHeldNow: false, dose: { mode: "resting" } }];
  const events = [set(2, 10, "maintenance"), session(3, 10), session(4, 11)];
  assert.deepEqual([today(events, 13, resting).isFree, today(events, 13, resting).isMorningAsked], [false, true]);
  assert.equal(today([...events, set(5, 12, "ended")], 14, resting).isMorningAsked, true);
  assert.equal(today([...events, set(5, 12, "ended")], 14).isMorningAsked, false);
});

test("days off are no absence: maintenance asks from a week on, the end never, and training again counts from its day", () => {
  const log = [RECEIVED, session(2, 4)];
  const days = (/** @type {any[]} */ more, /** @type {number} */ on) =>
    absenceOf(BUNDLE, [...log, ...more], day(on))?.days;
  assert.equal(days([], 10), 5);
  assert.equal(days([set(3, 4, "maintenance")], 10), undefined);
  assert.equal(days([set(3, 4, "maintenance")], 12), 7);
  assert.equal(days([set(3, 4, "ended")], 60), undefined);
  assert.equal(days([set(3, 4, "ended"), set(4, 60, "training")], 61), undefined);
  assert.equal(days([set(3, 4, "ended"), set(4, 60, "training")], 64), 4);
});

test("an earlier morning is missing only after a day with a session", () => {
  const anchors = { right: anchorAt(FIRST, day(5)), left: anchorAt(FIRST, day(5)) };
  const events = [RECEIVED, set(2, 1, "maintenance"), session(3, 6)];
  assert.deepEqual(
    earlierMornings(BUNDLE, anchors, events, day(9)).map(({ on }) => on),
    [day(7)],
  );
});

test("the day page says what was set, and training again only until a session is done", () => {
  /** @param {any[]} events @param {number} on */
  const page = (events, on) =>
    /** @type {any} */ ({ bundle: BUNDLE, events, today: day(on), course: today(events, on), practitioner: null });
  assert.equal(seen(page([], 9)), null);
  assert.deepEqual(seen(page([set(2, 8, "ended")], 9))?.reason, "Reason 2.");
  const again = [set(2, 8, "ended"), set(3, 20, "training")];
  assert.equal(seen(page(again, 20))?.to, "training");
  assert.equal(seen(page([...again, session(4, 21)], 22)), null);
  const ended = page([set(2, 8, "ended")], 9);
  assert.deepEqual(
    ["morning", "tomorrow", "later", "stop", "letters", "finishing"].map((part) => isKept(part, ended)),
    [false, false, false, true, true, true],
  );
});

test("in maintenance the page says what tomorrow depends on, but on a free day, of which nothing follows", () => {
  const events = [set(2, 10, "maintenance"), session(3, 10), session(4, 11)];
  const isShown = (/** @type {number} */ on) =>
    isKept("tomorrow", /** @type {any} */ ({ course: today(events, on), events, today: day(on) }));
  assert.deepEqual([10, 11, 12, 17].map(isShown), [true, true, false, true]);
});

test("the day on which to be seen again is told as it was set, and nothing where none was named", () => {
  const events = [set(2, 3, "ended", { seen_again_on: "2026-04-30" }), set(3, 9, "training")];
  assert.deepEqual(
    [2, 3, 9].map((on) => courseOn(events, day(on)).seenAgainOn),
    [null, "2026-04-30", null],
  );
});
