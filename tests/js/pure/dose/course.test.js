import assert from "node:assert/strict";
import { test } from "node:test";
import { addDays } from "../../../../pwa_assets/js/pure/calendar/local_day.js";
import { NOTHING_YET } from "../../../../pwa_assets/js/pure/dose/almanac.js";
import { follow } from "../../../../pwa_assets/js/pure/dose/course.js";
import { anchorAt, at, BUNDLE, FIRST, HELD, RESPONSES, RESTING, SECOND, THIRD } from "../../small_bundle.js";

const ON = "2026-03-10";
const CALM = { ...NOTHING_YET, sessions: 1, done: /** @type {const} */ ("enough"), during: 1, morning: 1 };

/** @param {Record<number, object>} byNumber facts by days from the anchor's day */
const facts = (byNumber) =>
  new Map(Object.entries(byNumber).map(([number, own]) => [addDays(ON, Number(number)), { ...CALM, ...own }]));

/** @param {any} anchor @param {Record<number, object>} reports @param {number} days @param {Map<string, any>} [releases] */
const followed = (anchor, reports, days, releases) =>
  follow(BUNDLE, anchor, facts(reports), addDays(ON, days), releases);

test("the anchor's own day begins where the response to the day before leads", () => {
  const anchor = anchorAt(FIRST, ON);
  anchor.states[RESPONSES.indexOf("tender")] = [THIRD, 2, 4];
  anchor.why[RESPONSES.indexOf("tender")] = ["stay"];
  const day = followed(anchor, { [-1]: { morning: 3 } }, 0);
  assert.deepEqual([day.position, day.why, day.responseYesterday], [at(THIRD, 2, 4), ["stay"], "tender"]);
  assert.deepEqual(followed(anchor, { [-1]: {} }, 0).position, at(FIRST));
});

test("a day is compared with the lowest of the reports made on it and on the two days before it", () => {
  const before = (/** @type {any} */ reports, /** @type {number} */ days) =>
    followed(anchorAt(FIRST, ON), reports, days).before;
  // The report about a day is made on the next morning.
  assert.equal(before({ [-1]: { morning: 4 } }, 0), 4);
  assert.equal(before({ [-2]: { morning: 1 }, [-1]: { morning: 4 } }, 0), 1);
  assert.equal(before({ [-3]: { morning: 0 }, [-1]: { morning: 4 } }, 0), 0);
  assert.equal(before({ [-4]: { morning: 0 }, [-1]: { morning: 4 } }, 0), 4);
  assert.equal(before({ 0: { morning: 0 }, [-1]: { morning: 4 } }, 0), 4);
  assert.equal(before({}, 5), null);
});

test("the anchor's mornings are used for their days where the log has no report", () => {
  const anchor = anchorAt(FIRST, ON, [0, 4, 5]);
  const before = (/** @type {any} */ reports, /** @type {number} */ days) => followed(anchor, reports, days).before;
  assert.deepEqual(
    [0, 1, 2].map((days) => before({}, days)),
    [4, 5, null],
  );
  // The log has the report that was made one day before the anchor's day.
  assert.equal(before({ [-2]: { morning: 2 } }, 1), 2);
  assert.equal(before({ [-2]: { morning: 6 }, [-3]: { morning: 7 } }, 0), 6);
});

test("the day before the anchor's is classed by three mornings before it, the oldest from the anchor", () => {
  const response = (/** @type {any} */ mornings) =>
    followed(anchorAt(FIRST, ON, mornings), { [-1]: { morning: 3 } }, 0).responseYesterday;
  assert.deepEqual(
    [response([1, 2, 2]), response([2, 2, 2]), response([null, null, null])],
    ["flared", "tender", "tender"],
  );
});

test("a rise of one point a day is compared with the lowest of three days, not with the last day", () => {
  const creep = { 0: { morning: 1 }, 1: { morning: 2 }, 2: { morning: 3 } };
  assert.equal(followed(anchorAt(FIRST, ON), creep, 3).responseYesterday, "flared");
});

test("the days are followed one by one, and today's dose is that of the last row", () => {
  const day = followed(anchorAt(FIRST, ON), { 0: {}, 1: {} }, 2);
  assert.deepEqual([day.position, day.dose, day.why], [at(THIRD), BUNDLE.doses[2], ["climb"]]);
  const away = followed(anchorAt(THIRD, ON), {}, 3);
  assert.deepEqual([away.position, away.why, away.responseYesterday], [at(THIRD, 3, 3), ["gap-streak"], "missed"]);
});

test("a whole session on a day of rest counts as 'part'", () => {
  assert.equal(followed(anchorAt(RESTING, ON), { 0: {} }, 1).responseYesterday, "partly");
  assert.equal(followed(anchorAt(SECOND, ON), { 0: {} }, 1).responseYesterday, "settled");
});

test("a release ends a hold on its own day, and on the anchor's day only after a sharp one", () => {
  const chosen = { rung: 2, range: 0.75 };
  const held = followed(anchorAt(HELD, ON), {}, 2, new Map([[addDays(ON, 2), chosen]]));
  assert.deepEqual([held.position, held.why, held.dose.mode], [at(SECOND), ["released"], "training"]);
  const today = new Map([[ON, chosen]]);
  assert.equal(followed(anchorAt(HELD, ON), { [-1]: { sharp: true } }, 0, today).position.row, SECOND);
  assert.equal(followed(anchorAt(HELD, ON), {}, 0, today).position.row, HELD);
});

test("today's response is known before tomorrow's morning and does not use it", () => {
  const today = (/** @type {any} */ own) => followed(anchorAt(FIRST, ON), { 0: own }, 0);
  assert.deepEqual([today({ morning: 9 }).responseToday, today({ during: 6 }).responseToday], ["unreported", "flared"]);
  assert.deepEqual(
    [today({}).hasEnded, today({ during: 6 }).hasEnded, today({ sharp: true }).hasEnded],
    [false, true, true],
  );
  assert.deepEqual(
    [today({}).isHeldNow, today({ during: 6 }).isHeldNow, today({ sharp: true }).isHeldNow],
    [false, false, true],
  );
  assert.equal(followed(anchorAt(HELD, ON), {}, 0).isHeldNow, true);
});

test("the last change is the anchor's until a later day asks something else", () => {
  const known = { on: "2026-03-07", why: ["widen"] };
  const anchor = { ...anchorAt(FIRST, ON), changed: RESPONSES.map(() => known) };
  const tender = { during: 4, morning: 1 };
  assert.deepEqual(followed(anchor, { [-1]: {} }, 0).changed, known);
  assert.deepEqual(
    followed(anchor, { [-1]: {}, 0: tender }, 1).changed,
    known,
    "a day that asks the same changes nothing",
  );
  const climbed = { on: addDays(ON, 1), why: ["climb"] };
  assert.deepEqual(followed(anchor, { [-1]: {}, 0: {}, 1: tender }, 2).changed, climbed);
  assert.equal(followed(anchorAt(FIRST, ON), { [-1]: {} }, 0).changed, null, "none is known");
});

test("a stop or a flare of the anchor's own day undoes a rise by hand that took effect on it", () => {
  const anchor = anchorAt(THIRD, ON);
  const lower = {
    states: RESPONSES.map(() => at(FIRST)).map(({ row }) => [row, 0, 0]),
    why: RESPONSES.map(() => ["hand-too-soon"]),
  };
  const raised = { ...anchor, if_troubled: /** @type {any} */ (lower) };
  assert.deepEqual(followed(raised, { [-1]: {} }, 0).position, at(THIRD), "nothing is told of the day yet");
  assert.deepEqual(followed(raised, { [-1]: {}, 0: { during: 5 } }, 0).position, at(THIRD));
  const flared = followed(raised, { [-1]: {}, 0: { during: 6, morning: null } }, 0);
  assert.deepEqual([flared.position, flared.why], [at(FIRST), ["hand-too-soon"]]);
  assert.deepEqual(
    followed(raised, { [-1]: {}, 0: { morning: 6 } }, 0).position,
    at(FIRST),
    "the next morning may tell it",
  );
});
