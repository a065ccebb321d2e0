import assert from "node:assert/strict";
import { test } from "node:test";
import { addDays } from "../../../../pwa_assets/js/pure/calendar/local_day.js";
import { activitiesIn, activityDue, ratingsIn } from "../../../../pwa_assets/js/pure/weeks/activities.js";
import { event } from "../../small_bundle.js";

const WEEKS = [0, 2, 4, 8, 12];
const FIRST = "2026-03-02";
const [KETTLE, KEY, JAR] = ["Lifting the kettle", "Turning a key", "Opening a jar"];
const day = (/** @type {number} */ number) => addDays(FIRST, number);
const NAMED = event(1, "activities_named", FIRST, { activities: [KETTLE, KEY, JAR] });
/** @param {number} seq @param {number} on days after the first @param {string} activity @param {number} rating */
const rated = (seq, on, activity, rating = 5) => event(seq, "activity_rated", day(on), { activity, rating });
/** @param {any[]} events @param {number} on */
const due = (events, on) => activityDue([NAMED, ...events], FIRST, day(on), WEEKS);
const ALL = [KETTLE, KEY, JAR].map((activity, at) => rated(2 + at, 0, activity));

test("the first activity is asked once in each week of the course", () => {
  assert.equal(due([], 0), KETTLE);
  assert.equal(due(ALL, 6), null);
  assert.equal(due(ALL, 7), KETTLE);
  assert.equal(due([...ALL, rated(9, 7, KETTLE)], 13), null);
});

test("the others are asked once from weeks 0, 2, 4, 8 and 12 on, one after the other", () => {
  const weekly = Array.from({ length: 20 }, (_, week) => rated(20 + week, week * 7, KETTLE));
  const found = Array.from({ length: 20 }, (_, week) => due([...ALL, ...weekly], week * 7) ?? "");
  assert.deepEqual(
    found.map((activity, week) => (activity ? week : -1)).filter((week) => week >= 0),
    [2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19],
  );
  const answered = [2, 4, 8, 12].flatMap((week) => [rated(50 + week, week * 7, KEY), rated(70 + week, week * 7, JAR)]);
  assert.deepEqual(
    Array.from({ length: 20 }, (_, week) => due([...ALL, ...weekly, ...answered], week * 7)).filter(Boolean),
    [],
  );
  assert.equal(due([...ALL, ...weekly, rated(90, 15, KEY)], 15), JAR);
});

test("where nothing is named nothing is asked", () => {
  assert.equal(activityDue([], FIRST, day(3), WEEKS), null);
  assert.equal(due([event(5, "activities_named", day(1), { activities: [] })], 2), null);
});

test("what the practice names takes the place of the intake; its ratings stay the first", () => {
  const rest = { arms: ["right"], places: ["outer_elbow"], usual: 2, weights_kg: [], sport_days: 0, other_care: [] };
  const intake = event(5, "intake_told", FIRST, { ...rest, activities: [{ name: JAR, rating: 3 }] });
  assert.deepEqual(activitiesIn([intake]), [JAR]);
  assert.deepEqual(activitiesIn([intake, NAMED]), [KETTLE, KEY, JAR]);
  assert.deepEqual(
    ratingsIn([rated(6, 7, JAR, 6), intake]).map(({ on, rating }) => [on, rating]),
    [
      [FIRST, 3],
      [day(7), 6],
    ],
  );
  const odd = event(5, "intake_told", FIRST, { ...rest, activities: [{ name: 4 }, null] });
  assert.deepEqual([activitiesIn([odd]), ratingsIn([odd])], [[], []]);
});

test("a rating that was taken back does not count", () => {
  const fix = event(9, "entry_corrected", FIRST, { replaces: ALL[0].id, body: null });
  assert.equal(due([...ALL, fix], 1), KETTLE);
});
