import assert from "node:assert/strict";
import { test } from "node:test";
import { bodyOf } from "../../../../pwa_assets/js/pure/returning/outing.js";

const STEPS = [
  { days_a_week: 2, minutes: 10, least_minutes: 8, most_strokes: 30, adds: "" },
  { days_a_week: 3, minutes: 10, least_minutes: 8, most_strokes: 0, adds: "" },
];
const WAY = /** @type {any} */ ({
  ladder: { name: "Racket", steps: STEPS },
  standing: { step: 1, isFirstOfStep: true },
});
const AS_ASKED = { minutes: 10, arms: { right: 2 }, amount: /** @type {const} */ ("asked"), strokes: null };

test("the usual outing is written as asked, with no strokes that nobody counted", () => {
  assert.deepEqual(bodyOf(null, WAY, AS_ASKED), {
    what: "sport",
    name: "Racket",
    minutes: 10,
    planned: false,
    step: 1,
    up: true,
    arms: { right: { worst: 2 } },
    amount: "asked",
  });
});

test("more minutes or strokes than the step allows are more, whatever was chosen; less is what the client says", () => {
  const amountOf = (/** @type {object} */ answers) => bodyOf(null, WAY, { ...AS_ASKED, ...answers }).amount;
  assert.equal(amountOf({ minutes: 11, amount: "fewer" }), "more");
  assert.equal(amountOf({ strokes: 31 }), "more");
  assert.equal(amountOf({ strokes: 30 }), "asked");
  assert.equal(amountOf({ amount: "fewer", strokes: 0 }), "fewer");
  assert.equal(amountOf({ amount: "more" }), "more");
});

test("an entry keeps the step with which it was written, and a plan says nothing of what was done", () => {
  const noted = /** @type {any} */ ({ body: { step: 2, up: false } });
  assert.deepEqual(
    [bodyOf(noted, WAY, { ...AS_ASKED, strokes: 99 }).amount, bodyOf(noted, WAY, AS_ASKED).step],
    ["asked", 2],
  );
  assert.equal(bodyOf(null, WAY, { ...AS_ASKED, arms: { right: null } }).amount, undefined);
});
