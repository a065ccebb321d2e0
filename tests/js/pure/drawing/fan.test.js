import assert from "node:assert/strict";
import { test } from "node:test";
import { drawnFor } from "../../../../pwa_assets/js/pure/drawing/drawn_movements.js";
import { arrowPath, fanPaths, wedgePath } from "../../../../pwa_assets/js/pure/drawing/fan.js";
import { marksOf } from "../../../../pwa_assets/js/pure/session/pacer.js";

/** @typedef {import("../../../../pwa_assets/js/pure/drawing/drawn_movements.js").Drawn} Drawn */

const LIFTS = ["palm_down", "palm_up", "thumb_up", "little_finger_up"];

/** @param {string} movement @param {number} range */
function fan(movement, range) {
  const drawn = /** @type {Drawn} */ (drawnFor(movement));
  return fanPaths(drawn, marksOf(drawn, range));
}

/** The angle between the two ends of an arc, in degrees; y points down. @param {string} d */
function angleOf(d) {
  const [fromX, fromY, , , , , , toX, toY] = (d.match(/-?\d+(\.\d+)?/g) ?? []).map(Number);
  return ((Math.atan2(-toY, toX) - Math.atan2(-fromY, fromX)) * 180) / Math.PI;
}

test("the wedge is as wide as the day's part of the range, whatever the part", () => {
  for (const movement of LIFTS) {
    const { up, down } = /** @type {Drawn} */ (drawnFor(movement));
    for (const range of [1, 0.75, 0.5]) {
      assert.ok(Math.abs(angleOf(fan(movement, range).day) - (up + down) * range) < 0.2, `${movement} at ${range}`);
    }
  }
});

test("the whole range is dotted beside a smaller wedge, and only there", () => {
  for (const movement of LIFTS) {
    const { up, down } = /** @type {Drawn} */ (drawnFor(movement));
    assert.equal(fan(movement, 1).full, "");
    assert.ok(Math.abs(angleOf(fan(movement, 0.5).full) - (up + down)) < 0.2, movement);
  }
});

test("a wedge begins at the wrist and ends at the rim", () => {
  const wedge = wedgePath(-35, 20);
  assert.match(wedge, /^M0 0L/);
  assert.ok(Math.abs(angleOf(wedge.slice(wedge.indexOf("L"))) - 55) < 0.2);
});

test("the arrow points the way the hand goes", () => {
  const tip = (/** @type {1|-1} */ way) => Number(arrowPath(way).split("L")[2].replace("Z", "").split(" ")[1]);
  assert.ok(tip(1) < 0);
  assert.ok(tip(-1) > 0);
});
