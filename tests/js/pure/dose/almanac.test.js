import assert from "node:assert/strict";
import { test } from "node:test";
import {
  countedUnder,
  doseOf,
  NOTHING_YET,
  nextOf,
  releasedFrom,
  responseOf,
} from "../../../../pwa_assets/js/pure/dose/almanac.js";
import { at, BUNDLE, FIRST, FOURTH, HELD, RESPONSES, RESTING, SECOND, THIRD } from "../../small_bundle.js";

const DONE = { ...NOTHING_YET, sessions: 1, done: /** @type {const} */ ("enough"), during: 2, morning: 1 };

/** @param {Partial<import("../../../../pwa_assets/js/pure/dose/almanac.js").Facts>} facts @param {number|null} [before] */
const response = (facts, before = 1) => responseOf(BUNDLE, { ...DONE, ...facts }, before);

/** Closes some days in a row, from a position. @param {number} row @param {string[]} responses */
const closed = (row, responses) =>
  responses.reduce((start, response) => nextOf(BUNDLE, start.position, response), {
    position: at(row),
    why: ["none yet"],
  });

/** @param {number} count @param {string} [response] */
const days = (count, response = "missed") => Array(count).fill(response);

test("each of the four axes of the cube changes what a day is classed as", () => {
  assert.equal(response({}), "settled");
  assert.deepEqual([response({ done: "part" }), response({ done: "none" })], ["partly", "missed"]);
  assert.deepEqual(
    [0, 3, 4, 6, 8].map((during) => response({ during })),
    ["settled", "settled", "aching", "flared", "sharp"],
  );
  assert.deepEqual(
    [null, 2, 3, 4, 6, 8].map((morning) => response({ morning }, 2)),
    ["unreported", "settled", "tender", "flared", "flared", "sharp"],
  );
  assert.deepEqual(
    [null, 1, 2].map((before) => response({ morning: 3 }, before)),
    ["tender", "flared", "tender"],
  );
});

test("sharp pain that is reported is sharp whatever the ratings", () => {
  assert.equal(response({ sharp: true }), "sharp");
});

test("a session without a rating hides no number that is known, and is never settled or partly", () => {
  const isUnrated = true;
  assert.deepEqual([response({ isUnrated }), response({ isUnrated, done: "part" })], ["unreported", "unreported"]);
  assert.deepEqual([response({ isUnrated, during: 4 }), response({ isUnrated, during: 7 })], ["aching", "flared"]);
  assert.equal(response({ isUnrated, morning: 3 }, 2), "tender");
  assert.equal(response({ during: null }), "unreported");
});

test("a cell that the cube has no letter for throws", () => {
  assert.throws(() => responseOf({ ...BUNDLE, cube: "?".repeat(5184) }, DONE, 1), RangeError);
});

test("on a day that asks nothing, enough is a part, and nothing stays nothing", () => {
  const counted = (/** @type {string} */ mode, /** @type {any} */ done) =>
    countedUnder({ mode }, { ...DONE, done }).done;
  assert.deepEqual(
    ["training", "resting", "held"].map((mode) => counted(mode, "enough")),
    ["enough", "part", "part"],
  );
  assert.deepEqual([counted("resting", "none"), counted("resting", "part")], ["none", "part"]);
});

test("a day with a session goes to the row of its response, with its reasons", () => {
  assert.deepEqual(closed(FIRST, ["settled"]), { position: at(SECOND), why: ["climb"] });
  assert.deepEqual(closed(THIRD, ["flared"]), { position: at(RESTING), why: ["flared"] });
  for (const response of RESPONSES) assert.equal(closed(HELD, [response]).position.row, HELD);
});

test("days without a session are counted with the rung on which they began, and any session ends them", () => {
  assert.deepEqual(closed(FOURTH, days(2)).position, at(FOURTH, 2, 4));
  assert.deepEqual(closed(SECOND, ["missed", "sore"]).position, at(SECOND, 2, 2));
  assert.deepEqual(closed(FOURTH, [...days(2), "partly"]).position, at(FOURTH));
});

test("the gap's reason stands beside the day's reasons; 'nothing changed' stands only alone", () => {
  assert.deepEqual(closed(FOURTH, days(2)).why, ["gap-resume"]);
  assert.deepEqual(closed(FOURTH, ["sore"]).why, ["sore"]);
  assert.deepEqual(closed(FOURTH, [...days(2), "sore"]).why, ["sore", "gap-streak"]);
  // A rest resumes nothing.
  assert.deepEqual(closed(RESTING, ["sore"]), { position: at(THIRD, 1, 4), why: ["sore"] });
  const silent = {
    ...BUNDLE,
    almanac: { ...BUNDLE.almanac, whys: BUNDLE.almanac.whys.map((/** @type {string[][]} */ why) => why.map(() => [])) },
  };
  assert.deepEqual(nextOf(silent, at(FOURTH), "flared_idle").why, []);
  assert.deepEqual(nextOf(silent, at(FOURTH), "missed").why, ["gap-resume"]);
});

test("a gap keeps the rung till the seventh day, which goes down", () => {
  assert.deepEqual(closed(FOURTH, days(6)), { position: at(FOURTH, 6, 4), why: ["gap-streak"] });
  assert.deepEqual(closed(FOURTH, days(7)), { position: at(SECOND, 7, 4), why: ["gap-two-down"] });
  assert.deepEqual(closed(SECOND, days(7)), { position: at(FIRST, 7, 2), why: ["gap-one-down"] });
  assert.deepEqual(closed(FIRST, days(7)), { position: at(FIRST, 7, 1), why: ["gap-streak"] });
});

test("two weeks lead half way down from the rung of the gap's beginning, never up, and forget that rung", () => {
  assert.deepEqual(closed(FOURTH, days(13)), { position: at(SECOND, 13, 4), why: ["gap-streak"] });
  assert.deepEqual(closed(FOURTH, days(14)), { position: at(SECOND, 14, 0), why: ["gap-streak"] });
  // The seventh day of this gap took off no rung, so the fourteenth day goes down all the rungs to half way.
  const late = nextOf(BUNDLE, at(FOURTH, 13, 4), "missed");
  assert.deepEqual(late, { position: at(SECOND, 14, 0), why: ["gap-half"] });
  assert.deepEqual(nextOf(BUNDLE, at(FIRST, 13, 4), "missed").position, at(FIRST, 14, 0));
});

test("four weeks go to the start, and more days change nothing", () => {
  assert.deepEqual(closed(FOURTH, days(27)).position, at(SECOND, 27, 0));
  assert.deepEqual(closed(FOURTH, days(28)), { position: at(FIRST, 28, 0), why: ["gap-start"] });
  assert.deepEqual(closed(FOURTH, days(40)), { position: at(FIRST, 28, 0), why: ["gap-streak"] });
});

test("a hold counts no days", () => {
  assert.deepEqual(closed(HELD, days(9)), { position: at(HELD), why: ["still"] });
});

test("a response or a row that the table does not know throws", () => {
  assert.throws(() => nextOf(BUNDLE, at(FIRST), "fine"), RangeError);
  assert.throws(() => nextOf(BUNDLE, at(99), "settled"), RangeError);
});

test("a release goes where the practice chose or lower, never above the offer, and ends the gap", () => {
  const from = (/** @type {number} */ row, /** @type {any} */ chosen) =>
    releasedFrom(BUNDLE, { position: at(row, 3, 4), why: ["stop"] }, chosen);
  assert.deepEqual(from(HELD, { rung: 2, range: 0.75 }), { position: at(SECOND), why: ["released"] });
  assert.deepEqual(from(HELD, { rung: 1, range: 0.5 }).position, at(FIRST));
  assert.deepEqual(from(HELD, { rung: 4, range: 0.75 }).position, at(THIRD));
  assert.deepEqual(from(HELD, { rung: 2, range: 1 }).position, at(SECOND));
  assert.deepEqual(from(HELD, { rung: 3, range: 0.5 }).position, at(FIRST));
  assert.deepEqual(from(HELD, { rung: 1, range: 0.75 }).position, at(FIRST));
  assert.deepEqual(from(RESTING, { rung: 2, range: 0.75 }), { position: at(RESTING, 3, 4), why: ["stop"] });
  assert.deepEqual(from(HELD, undefined), { position: at(HELD, 3, 4), why: ["stop"] });
});

test("a row's dose is looked up", () => {
  assert.equal(doseOf(BUNDLE, at(SECOND)), BUNDLE.doses[1]);
  assert.equal(doseOf(BUNDLE, at(HELD)).mode, "held");
});
