import assert from "node:assert/strict";
import { test } from "node:test";
import { bodyOf, faultIn } from "../../../../pwa_assets/js/pure/arriving/intake.js";
import { fitsKind } from "../../../../pwa_assets/js/pure/sync/entry_check.js";

/** @type {[string, string][]} */
const LEAST = [
  ["arm", "left"],
  ["place", "outer_elbow"],
  ["usual", "2"],
  ["sport_days", "0"],
];

test("the least that is asked is a body that fits, with body size left out", () => {
  const body = bodyOf(LEAST);
  assert.ok(fitsKind("intake_told", body));
  assert.deepEqual([body.arms, body.places, body.usual, "mass_kg" in body], [["left"], ["outer_elbow"], 2, false]);
});

test("everything that can be answered comes out in the units of the entry", () => {
  /** @type {[string, string][]} */
  const more = [
    ["weight", "1"],
    ["weight", "0.5"],
    ["other_weight", "0,5"],
    ["mass_kg", "72.5"],
    ["height_cm", "181"],
  ];
  const body = bodyOf([...LEAST, ...more, ["care", "doctor"], ["activity1", " Sawing "], ["rating1", "0"]]);
  assert.deepEqual([body.weights_kg, body.mass_kg, body.height_m], [[0.5, 1], 72.5, 1.81]);
  assert.deepEqual([body.activities, body.other_care], [[{ name: "Sawing", rating: 0 }], ["doctor"]]);
  assert.ok(fitsKind("intake_told", body));
});

test("both arms are two arms", () => {
  assert.deepEqual(bodyOf([["arm", "both"], ...LEAST.slice(1)]).arms, ["right", "left"]);
});

test("each page names its first fault, and a page that is answered has none", () => {
  assert.equal(faultIn([], "where")?.field, "arm");
  assert.equal(faultIn([["arm", "left"]], "where")?.field, "place");
  assert.equal(faultIn(LEAST, "where"), null);
  assert.equal(faultIn([], "mornings")?.field, "usual");
  assert.equal(faultIn([], "activities"), null);
  assert.equal(faultIn([["activity2", "Sawing"]], "activities")?.field, "activity2");
  assert.equal(
    faultIn(
      [
        ["activity2", "Sawing"],
        ["rating2", "0"],
      ],
      "activities",
    ),
    null,
  );
});

test("a number that is none, or is out of range, is named with what was typed", () => {
  for (const text of ["half", "-1", "51", "1e1", "0x9"])
    assert.deepEqual(faultIn([["other_weight", text]], "weights"), {
      fault: "intake.not_a_number",
      field: "other_weight",
      text,
    });
  assert.equal(faultIn([["other_weight", "1,5"]], "weights"), null);
  assert.equal(faultIn([["height_cm", "5 feet"]], "rest")?.field, "height_cm");
});
