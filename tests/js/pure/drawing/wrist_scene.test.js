import assert from "node:assert/strict";
import { test } from "node:test";
import { drawnFor, drawnMovements } from "../../../../pwa_assets/js/pure/drawing/drawn_movements.js";
import { handLimbs, placedBy } from "../../../../pwa_assets/js/pure/drawing/hand_model.js";
import { nearness } from "../../../../pwa_assets/js/pure/drawing/line_art.js";
import { wristScene } from "../../../../pwa_assets/js/pure/drawing/wrist_scene.js";

/** @typedef {import("../../../../pwa_assets/js/pure/drawing/drawn_movements.js").Drawn} Drawn */
/** @typedef {import("../../../../pwa_assets/js/pure/drawing/wrist_scene.js").Stroke} Stroke */

const LIFTS = ["palm_down", "palm_up", "thumb_up", "little_finger_up"];
const STRETCHES = ["stretch_palm_down", "stretch_palm_up", "stretch_palm_up_soft"];
const INK = 2.5;
const FLAT = { bend: 0, swing: 0 };
/** By how much a step along each axis comes nearer to the eye. @type {number[]} */
const TO_THE_EYE = [nearness([1, 0, 0]), nearness([0, 1, 0]), nearness([0, 0, 1])];
const OPEN = { ...FLAT, roll: 0, curl: 0, thumb: 0, spread: 0 };

/** @param {string} movement @returns {Drawn} */
const drawn = (movement) => /** @type {Drawn} */ (drawnFor(movement));

/** The direction in which the side of the hand with this knuckle or tip points. @param {string} movement @param {string} name @param {number} nth */
function pointing(movement, name, nth) {
  const balls = handLimbs(OPEN).filter((part) => part.name === name)[nth].balls;
  const [, up, near] = placedBy({ ...FLAT, roll: drawn(movement).roll })(balls[1].at);
  return { up, near };
}

/** @param {string} movement @param {Partial<import("../../../../pwa_assets/js/pure/session/pacer.js").Turned>} [turned] */
const strokes = (movement, turned = {}, weighted = true) =>
  wristScene(drawn(movement), weighted)({ ...FLAT, open: 0, ...turned });

/** @param {Stroke[]} scene */
const still = (scene) => scene.slice(0, 2).map(({ d }) => d);

// Anatomy of a right arm seen from its outer side, as in any atlas: with the palm up, the thumb is on the outer side, which is
// the near side here; with the palm down, it is on the inner side.
test("the thumb is on the side where a right arm has it, palm down, palm up and on edge", () => {
  assert.ok(pointing("palm_down", "thumb", 0).near < -15);
  assert.ok(pointing("palm_up", "thumb", 0).near > 15);
  assert.ok(pointing("thumb_up", "thumb", 0).up > 15);
  assert.ok(pointing("little_finger_up", "thumb", 0).up < -15);
});

test("the little finger is opposite to the thumb, and on top where it is to rise", () => {
  for (const movement of LIFTS) {
    const [thumb, little] = [pointing(movement, "thumb", 0), pointing(movement, "ray", 3)];
    assert.ok(thumb.up * little.up + thumb.near * little.near < 0, movement);
  }
  assert.ok(pointing("little_finger_up", "ray", 3).up > 25);
});

test("what lifts, lifts against gravity: the whole weight is higher on paper at the top mark than at the bottom", () => {
  for (const movement of LIFTS) {
    const { up, down } = drawn(movement);
    const lows = [up, -down].map((bend) => Math.max(...strokes(movement, { bend }).filter(isIron).flatMap(heights)));
    assert.ok(lows[0] < lows[1], movement);
  }
});

test("a hand on its way draws the same lines in the same order, so that nothing flickers", () => {
  for (const movement of drawnMovements()) {
    const { up, down } = drawn(movement);
    const kinds = [up, 0, -down].map((bend) =>
      strokes(movement, { bend })
        .map(({ kind }) => kind)
        .join(" "),
    );
    assert.equal(new Set(kinds).size, 1, movement);
  }
});

test("thigh and forearm lie still while the hand moves", () => {
  for (const movement of LIFTS) assert.deepEqual(still(strokes(movement, { bend: 20 })), still(strokes(movement)));
});

test("a dumbbell is drawn only where there is one", () => {
  for (const movement of LIFTS) {
    assert.ok(strokes(movement).some(isIron));
    assert.ok(!strokes(movement, {}, false).some(isIron));
  }
});

test("the whole weight is within the view at every mark", () => {
  for (const movement of LIFTS) {
    const { up, down, frame } = drawn(movement);
    for (const bend of [up, 0, -down]) {
      const weight = strokes(movement, { bend }).filter(isIron).flatMap(heights);
      assert.ok(Math.min(...weight) >= frame[1], `${movement} at ${bend}`);
      assert.ok(Math.max(...weight) <= frame[1] + frame[3], `${movement} at ${bend}`);
    }
  }
});

test("the whole empty hand is within the view at every mark, its thumb too", () => {
  for (const movement of LIFTS) {
    const { up, down, frame } = drawn(movement);
    for (const bend of [up, 0, -down]) {
      const hand = strokes(movement, { bend }, false).slice(2).flatMap(ends);
      assert.ok(Math.min(...hand) >= frame[1] + INK, `${movement} at ${bend}`);
      assert.ok(Math.max(...hand) <= frame[1] + frame[3] - INK, `${movement} at ${bend}`);
    }
  }
});

test("the empty hand's thumb alone stands out of the fist: on top in thumb up, below in little finger up", () => {
  for (const [movement, side] of /** @type {[string, number][]} */ ([
    ["thumb_up", -1],
    ["little_finger_up", 1],
  ])) {
    const { up, down } = drawn(movement);
    for (const bend of [up, up / 2, 0, -down / 2, -down]) {
      const reach = (/** @type {Stroke} */ stroke) => Math.max(...heights(stroke).map((y) => y * side));
      const [fist, empty] = [true, false].map((weighted) =>
        strokes(movement, { bend }, weighted).slice(2).filter(isSkin).map(reach),
      );
      const edge = Math.max(...fist);
      assert.equal(empty.filter((y) => y > edge + 3).length, 1, `${movement} at ${bend}`);
    }
  }
});

test("a shut fist shows the folded ends of its fingers, but not through the back of the hand", () => {
  const ends = LIFTS.map((movement) => {
    const [empty, full] = [false, true].map((weighted) => strokes(movement, {}, weighted).filter(isSkin).length);
    return [movement, empty - full];
  });
  assert.deepEqual(Object.fromEntries(ends), { palm_down: 4, palm_up: 4, thumb_up: 0, little_finger_up: 4 });
});

test("a stretch shows the other hand, that pulls", () => {
  for (const movement of STRETCHES) {
    const skins = [movement, "palm_down"].map((name) => strokes(name).filter(isSkin).length);
    assert.ok(skins[0] >= skins[1] + 8, movement);
  }
});

test("a palm's lines are drawn in the stretches palm up, nails in the one palm down", () => {
  const lines = STRETCHES.map((movement) => [movement, strokes(movement).filter(isIron).length]);
  assert.deepEqual(Object.fromEntries(lines), { stretch_palm_down: 0, stretch_palm_up: 2, stretch_palm_up_soft: 2 });
  const [down, up] = STRETCHES.map((movement) => strokes(movement).filter(isSkin).length);
  assert.equal(down - up, 4);
});

// The written instructions: with the palm down, the other hand holds the back of the hand, never the fingertips; with the palm up,
// the palm stays visible.
test("the other hand lies on the back of the hand palm down, on the fingers palm up", () => {
  const knuckles = handLimbs(OPEN)
    .filter(({ name }) => name === "ray")
    .map(({ balls }) => balls[1].at[0]);
  const [down, ...up] = STRETCHES.map((movement) => drawn(movement).held ?? Number.NaN);
  assert.ok(down < Math.min(...knuckles));
  assert.ok(up.every((held) => held > Math.max(...knuckles)));
});

test("a stretched hand is turned a little, so that the side named in its title is seen at the end of the pull", () => {
  for (const movement of STRETCHES) {
    const { roll, down } = drawn(movement);
    const [root, out] = [0, movement === "stretch_palm_down" ? 1 : -1].map((y) =>
      nearness(placedBy({ roll, bend: -down, swing: 0 })([0, y, 0])),
    );
    assert.ok(out - root > 0.75 * Math.hypot(...TO_THE_EYE), movement);
  }
});

/** @param {Stroke} stroke */
const isIron = ({ kind }) => kind === "iron";

/** @param {Stroke} stroke */
const isSkin = ({ kind }) => kind === "skin";

/** The y of each corner of a path; y points down. @param {Stroke} stroke */
const heights = ({ d }) => [...d.matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)].map(([, , y]) => Number(y));

/** How far up and down its round ends reach. @param {Stroke} stroke */
const ends = ({ d }) =>
  [...d.matchAll(/(-?[\d.]+)A([\d.]+) \S+ 0 \d 1 \S+ (-?[\d.]+)/g)].flatMap(([, from, r, to]) =>
    [-1, 1].map((side) => (Number(from) + Number(to)) / 2 + side * Number(r)),
  );
