import assert from "node:assert/strict";
import { test } from "node:test";
import { NOTHING_YET } from "../../../../pwa_assets/js/pure/dose/almanac.js";
import {
  armDays,
  dependsOnMorning,
  joinSheets,
  planOf,
  tomorrowIf,
} from "../../../../pwa_assets/js/pure/dose/today.js";
import { step } from "../../builders.js";
import { anchorAt, BUNDLE, event, FIRST, HELD, RESTING, sessionBody, sets } from "../../small_bundle.js";

const TODAY = "2026-03-02";
const CALM = { ...NOTHING_YET, sessions: 1, done: /** @type {const} */ ("enough"), during: 2, morning: 1 };

/** @param {number} row */
const anchor = (row) => anchorAt(row, TODAY);

/** @param {number} seq @param {string} arm @param {object} [own] @param {object} [other] */
const finished = (seq, arm, own = {}, other = {}) =>
  event(seq, "session_finished", TODAY, sessionBody({ [arm]: own }, other));

/** @param {any[]} events @param {any} [anchors] */
const days = (events, anchors = { right: anchor(FIRST), left: anchor(FIRST) }) =>
  armDays(BUNDLE, anchors, events, TODAY);

test("each arm is offered its sessions until they are done, whatever the other does", () => {
  const offered = (/** @type {any[]} */ events) =>
    days(events).map(({ arm, done, sessionsAsked, isOffered }) => [arm, done, sessionsAsked, isOffered]);
  assert.deepEqual(offered([]), [
    ["right", 0, 2, true],
    ["left", 0, 2, true],
  ]);
  assert.deepEqual(offered([finished(1, "right"), finished(2, "right"), finished(3, "left")]), [
    ["right", 2, 2, false],
    ["left", 1, 2, true],
  ]);
});

test("a warm-up before sport is asked besides the day's sessions", () => {
  const [right] = days([finished(1, "right", {}, { ways: ["before_sport"] })]);
  assert.deepEqual([right.done, right.sessionsAsked, right.isOffered], [1, 3, true]);
});

test("a session without a rep does not count as done", () => {
  const [right] = days([finished(1, "right", { sets: sets(0, 0) })]);
  assert.deepEqual([right.done, right.isOffered], [0, true]);
});

test("after sharp pain the arm is held at once and the other arm goes on", () => {
  const [right, left] = days([finished(1, "right", { sharp: true })]);
  assert.deepEqual([right.isHeldNow, right.hasEnded, right.isOffered], [true, true, false]);
  assert.deepEqual([left.isHeldNow, left.isOffered], [false, true]);
});

test("an arm that rests, is held, or has no anchor is offered nothing", () => {
  const found = days([], { right: anchor(RESTING) });
  assert.deepEqual(
    found.map(({ arm, sessionsAsked, isOffered }) => [arm, sessionsAsked, isOffered]),
    [["right", 0, false]],
  );
  assert.equal(days([], { left: anchor(HELD) })[0].isHeldNow, true);
});

test("the session joins the arms that are offered one; without such an arm there is no session", () => {
  const plan = planOf(BUNDLE, days([]), TODAY);
  assert.deepEqual([plan?.on, plan?.routineVersion, plan?.bundleHash], [TODAY, 3, "ab12"]);
  assert.equal(plan?.repWork, BUNDLE.rep_work);
  assert.deepEqual(
    plan?.steps.map(({ kind, arm }) => `${arm} ${kind}`),
    ["right hold", "left change_arm", "left hold", "left done"],
  );
  const left = planOf(BUNDLE, days([finished(1, "right"), finished(2, "right")]), TODAY);
  assert.deepEqual(
    left?.steps.map(({ kind, arm }) => `${arm} ${kind}`),
    ["left hold", "left done"],
  );
  assert.equal(planOf(BUNDLE, days([], { right: anchor(HELD) }), TODAY), null);
});

test("the plan knows whether this is the day's first session, and the one after sport", () => {
  const answer = (/** @type {any[]} */ events) =>
    planOf(BUNDLE, days(events), TODAY)?.arms.map(({ isFirst, isAfterSport }) => [isFirst, isAfterSport]);
  assert.deepEqual(answer([]), [
    [true, false],
    [true, false],
  ]);
  const warmed = ["right", "left"].map((arm, i) => finished(i, arm, {}, { ways: ["before_sport"] }));
  assert.deepEqual(answer(warmed), [
    [false, true],
    [false, true],
  ]);
});

test("sheets are joined with one end, and each step knows its arm", () => {
  const sheet = [step("hold", 30), step("done", 0)];
  const joined = joinSheets({ ...BUNDLE, change_arm: {} }, [
    { arm: "right", sheet },
    { arm: "left", sheet },
  ]);
  assert.deepEqual(
    joined.map(({ kind, arm }) => [kind, arm]),
    [
      ["hold", "right"],
      ["hold", "left"],
      ["done", "left"],
    ],
  );
});

test("tomorrow is looked up for a report that is only supposed", () => {
  const [right] = days([]);
  const tomorrow = (/** @type {object} */ facts) => tomorrowIf(BUNDLE, right, { ...CALM, ...facts });
  assert.deepEqual([tomorrow({}).dose.mode, tomorrow({}).why], ["training", ["climb"]]);
  assert.deepEqual(
    [tomorrow({ sharp: true }).response, tomorrow({ sharp: true }).dose.mode, tomorrow({ sharp: true }).why],
    ["sharp", "held", ["stop"]],
  );
});

test("on a day that asks for no session, 'enough' is looked up as 'part'", () => {
  const [training] = days([]);
  const [resting] = days([], { right: anchor(RESTING) });
  assert.deepEqual(
    [training, resting].map((day) => tomorrowIf(BUNDLE, day, CALM).response),
    ["settled", "partly"],
  );
});

test("today waits for the morning's report only where it can change what is asked", () => {
  const waits = (/** @type {any[]} */ events, /** @type {any} */ from = anchor(FIRST)) =>
    dependsOnMorning(BUNDLE, from, events, TODAY, "right");
  const turning = anchor(FIRST);
  turning.states[turning.why.length - 1] = [RESTING, 0, 0];
  assert.equal(waits([]), false);
  assert.equal(waits([], turning), true);
  const report = event(1, "morning_reported", TODAY, { arms: { right: { pain: 1 } } });
  assert.equal(waits([report], turning), false);
});

test("a release of today does not cover a sharp morning that is not reported yet", () => {
  const from = anchor(FIRST);
  const [sharp] = [BUNDLE.almanac.responses.indexOf("sharp")];
  from.states[sharp] = [HELD, 0, 0];
  const release = event(1, "hold_released", TODAY, {
    arms: { right: { rung: 1, range: 0.5, covers: [], reason: "", by: "" } },
  });
  assert.equal(dependsOnMorning(BUNDLE, from, [release], TODAY, "right"), true);
});
