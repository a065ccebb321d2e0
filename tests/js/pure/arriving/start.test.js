import assert from "node:assert/strict";
import { test } from "node:test";
import { LEVELS, startOf } from "../../../../pwa_assets/js/pure/arriving/start.js";
import { BUNDLE, event, sessionBody } from "../../small_bundle.js";

const DAY = "2026-03-08";
const SIGNS = [
  { id: "chest", level: "emergency", is_whole: true, holds: true, text: "" },
  { id: "heart", level: "ask_first", is_whole: false, holds: false, text: "" },
];
const WITH_SIGNS = /** @type {any} */ ({ ...BUNDLE, warnings: SIGNS });
const ASKED = { waits_for: /** @type {const} */ ("screening"), asks_intake: false };

/** @param {number} seq @param {string} reached @param {string[]} signs */
const answered = (seq, reached, ...signs) =>
  event(seq, "screening_answered", DAY, { asked_list: "ab", reached, signs });
/** @param {number} seq @param {string[]} signs */
const cleared = (seq, ...signs) => event(seq, "screening_cleared", DAY, { signs, reason: "Asked.", by: "Hedda" });
/** @param {any[]} events @param {any} [served] */
const start = (events, served = ASKED) => startOf(WITH_SIGNS, events, served);

test("a phone that was told to ask begins with the emergency signs", () => {
  assert.deepEqual(start([]), { waitsFor: "screening", next: "emergency", waiting: [] });
});

test("nothing waits before the first reply, after a session, or where the server knows of an answer", () => {
  assert.equal(startOf(WITH_SIGNS, [], undefined).waitsFor, "nothing");
  assert.equal(start([event(1, "session_finished", DAY, sessionBody({ right: {} }))]).waitsFor, "nothing");
  assert.equal(start([], { waits_for: "nothing" }).waitsFor, "nothing");
  assert.equal(start([], { waits_for: "practitioner" }).waitsFor, "practitioner");
});

test("an answer on this phone counts at once, whatever the server said before", () => {
  assert.equal(start([answered(1, "ask_first")]).waitsFor, "nothing");
});

test("after a stop the questions go on with the next level, and none is skipped", () => {
  for (const [at, level] of LEVELS.slice(0, -1).entries()) {
    const found = start([answered(1, level, "chest")]);
    assert.deepEqual([found.waitsFor, found.next], ["screening", LEVELS[at + 1]]);
  }
});

test("of two phones the one that asked further counts, and the signs of both", () => {
  const both = start([answered(1, "emergency", "chest"), answered(2, "ask_first", "heart")]);
  assert.deepEqual(both, { waitsFor: "practitioner", next: "", waiting: ["heart"] });
});

test("a sign that holds no arm, or that this list does not know, waits until it is cleared", () => {
  const ticked = answered(1, "ask_first", "heart", "of_another_list");
  assert.deepEqual(start([ticked]).waiting, ["heart", "of_another_list"]);
  assert.deepEqual(start([ticked, cleared(2, "heart")]).waiting, ["of_another_list"]);
  assert.equal(start([ticked, cleared(2, "heart", "of_another_list")]).waitsFor, "nothing");
});

test("an answer that was taken back is as if it had never been", () => {
  const back = event(2, "entry_corrected", DAY, { replaces: answered(1, "ask_first").id, body: null });
  assert.equal(start([answered(1, "ask_first", "heart"), back]).next, "emergency");
});

test("no phone can take back or change what the practitioner agreed to", () => {
  const log = [answered(1, "ask_first", "heart"), cleared(2, "heart")];
  const back = event(3, "entry_corrected", DAY, { replaces: cleared(2).id, body: null });
  assert.equal(start([...log, back]).waitsFor, "nothing");
});

test("half an answer is no answer", () => {
  const broken = event(1, "screening_answered", DAY, { asked_list: "ab", reached: "somewhere", signs: [] });
  assert.equal(start([broken]).next, "emergency");
});

const BY_CLIENT = { waits_for: /** @type {const} */ ("screening"), asks_intake: true };
const TOLD = {
  arms: ["left"],
  places: ["outer_elbow"],
  usual: 2,
  activities: [],
  weights_kg: [],
  sport_days: 0,
  other_care: [],
};

test("a client who tells the intake is asked after the safety questions, and then waits for the practitioner", () => {
  const none = /** @type {any} */ (null);
  assert.equal(startOf(none, [], BY_CLIENT).waitsFor, "screening");
  const begun = [answered(1, "ask_first")];
  assert.equal(startOf(none, begun, BY_CLIENT).waitsFor, "intake");
  const log = [...begun, event(2, "intake_told", DAY, TOLD)];
  assert.equal(startOf(none, log, BY_CLIENT).waitsFor, "practitioner");
  assert.equal(startOf(WITH_SIGNS, log, BY_CLIENT).waitsFor, "nothing", "the routine has come");
});
