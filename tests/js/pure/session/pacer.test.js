import assert from "node:assert/strict";
import { test } from "node:test";
import { drawnFor } from "../../../../pwa_assets/js/pure/drawing/drawn_movements.js";
import { marksOf, onLoop, turnedAt } from "../../../../pwa_assets/js/pure/session/pacer.js";
import { stateAt } from "../../../../pwa_assets/js/pure/session/timeline.js";
import { reps, step } from "../../builders.js";

/** @typedef {import("../../../../pwa_assets/js/pure/drawing/drawn_movements.js").Drawn} Drawn */

const LIFT = /** @type {Drawn} */ (drawnFor("palm_down"));
const STRETCH = /** @type {Drawn} */ (drawnFor("stretch_palm_down"));
const CIRCLE = /** @type {Drawn} */ (drawnFor("circles_thumb_first"));

/** @param {Drawn} drawn @param {import("../../builders.js").Step} step @param {number} ms @param {boolean} [inSteps] */
const turned = (drawn, step, ms, inSteps) => turnedAt(drawn, step, stateAt([step], ms), inSteps);

/** @param {number} value @param {number} to */
const near = (value, to) => assert.ok(Math.abs(value - to) < 1e-6, `${value} is not ${to}`);

test("a lift starts at the bottom mark, is at the top mark after the way up, and at the bottom again", () => {
  const set = reps(3);
  const { top, bottom } = marksOf(LIFT, 1);
  assert.deepEqual([top, bottom], [LIFT.up, -LIFT.down]);
  for (const rep of [0, 1, 2]) {
    near(turned(LIFT, set, rep * 5000).bend, bottom);
    near(turned(LIFT, set, rep * 5000 + 1000).bend, (top + bottom) / 2);
    near(turned(LIFT, set, rep * 5000 + 2000).bend, top);
    near(turned(LIFT, set, rep * 5000 + 3500).bend, (top + bottom) / 2);
  }
});

test("the hand rises all the way up and sinks all the way down, without a jump", () => {
  const bends = Array.from({ length: 500 }, (_, i) => turned(LIFT, reps(1), i * 10).bend);
  const rises = bends.slice(1).map((bend, i) => bend - bends[i]);
  assert.ok(rises.slice(0, 199).every((rise) => rise > 0));
  assert.ok(rises.slice(201).every((rise) => rise < 0));
  assert.ok(rises.every((rise) => Math.abs(rise) < 1));
});

test("a smaller range has smaller marks, and the hand keeps within them", () => {
  for (const range of [0.75, 0.5]) {
    const { top, bottom } = marksOf(LIFT, range);
    assert.deepEqual([top, bottom], [LIFT.up * range, -LIFT.down * range]);
    const bends = Array.from({ length: 51 }, (_, i) => turned(LIFT, reps(1, { range }), i * 100).bend);
    near(Math.max(...bends), top);
    near(Math.min(...bends), bottom);
  }
});

test("while nothing is lifted the hand waits at the bottom mark", () => {
  for (const kind of /** @type {const} */ (["prepare", "rest", "change_arm"]))
    near(turned(LIFT, step(kind, 10), 4000).bend, -LIFT.down);
});

test("without motion there are two positions, and each way shows the one that it leads to", () => {
  const bends = [0, 999, 1999, 2000, 2999, 4999].map((ms) => turned(LIFT, reps(1), ms, true).bend);
  assert.deepEqual(bends, [55, 55, 55, -35, -35, -35]);
  assert.equal(turned(STRETCH, step("hold", 30), 0, true).bend, -STRETCH.down);
  assert.equal(turned(STRETCH, step("prepare", 30), 0, true).bend + 0, 0);
});

test("the arrow runs ahead of the hand, points where it goes, and never passes the mark", () => {
  for (const ms of [0, 500, 1000, 1500]) {
    const { mark, bend, ahead } = turned(LIFT, reps(1), ms);
    assert.ok(mark > bend && mark <= LIFT.up && ahead === 1, `${ms}`);
  }
  for (const ms of [2000, 3000, 4500]) {
    const { mark, bend, ahead } = turned(LIFT, reps(1), ms);
    assert.ok(mark < bend && mark >= -LIFT.down && ahead === -1, `${ms}`);
  }
  assert.equal(turned(LIFT, step("rest", 10), 0).ahead, 0);
});

test("a hold comes into the stretch and stays there", () => {
  const hold = step("hold", 30);
  assert.equal(turned(STRETCH, hold, 0).bend + 0, 0);
  for (const ms of [3000, 15_000, 29_999]) near(turned(STRETCH, hold, ms).bend, -STRETCH.down);
});

test("a hold, a rest and a change of arm have time; reps and what has not begun have none", () => {
  assert.deepEqual(turned(STRETCH, step("hold", 30), 15_000).time, { seconds: 30, part: 0.5 });
  assert.deepEqual(turned(LIFT, step("rest", 20), 5000).time, { seconds: 20, part: 0.25 });
  assert.deepEqual(turned(CIRCLE, step("change_arm", 10), 5000).time, { seconds: 10, part: 0.5 });
  assert.deepEqual(turned(STRETCH, step("hold", 30), 15_500, true).time, { seconds: 30, part: 15 / 30 });
  assert.equal(turned(LIFT, reps(1), 500).time, null);
  assert.equal(turned(STRETCH, step("prepare", 10), 5000).time, null);
});

test("a circle goes once round in a rep and each way starts to its own side", () => {
  const rep = step("warm_up", 3, { reps: 1, up: 1.5, down: 1.5 });
  const places = [0, 750, 1500, 2250].map((ms) => turned(CIRCLE, rep, ms));
  [-32, 0, 32, 0].forEach((bend, i) => {
    near(places[i].bend, bend);
  });
  [0, 32, 0, -32].forEach((swing, i) => {
    near(places[i].swing, swing);
  });
  const other = /** @type {Drawn} */ (drawnFor("circles_little_first"));
  near(onLoop(CIRCLE, 1, 90).swing, -onLoop(other, 1, 90).swing);
  near(onLoop(CIRCLE, 1, 0).bend, -onLoop(CIRCLE, 1, 180).bend);
  near(onLoop(CIRCLE, 0.5, 180).bend, onLoop(CIRCLE, 1, 180).bend / 2);
});

test("fingers open on the way up and are closed again at the end", () => {
  const fingers = /** @type {Drawn} */ (drawnFor("fingers"));
  const rep = step("warm_up", 3, { reps: 1, up: 1.5, down: 1.5 });
  near(turned(fingers, rep, 0).open, 0);
  near(turned(fingers, rep, 1500).open, 1);
  near(turned(fingers, rep, 3000).open, 0);
});
