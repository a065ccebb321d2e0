import assert from "node:assert/strict";
import { test } from "node:test";
import { drawnFor, drawnMovements } from "../../../pwa_assets/js/pure/drawn_movements.js";
import { handLimbs, placedBy } from "../../../pwa_assets/js/pure/hand_model.js";
import { wristScene } from "../../../pwa_assets/js/pure/wrist_scene.js";

/** @typedef {import("../../../pwa_assets/js/pure/drawn_movements.js").Drawn} Drawn */

const LIFTS = ["palm_down", "palm_up", "thumb_up", "little_finger_up"];
const FLAT = { bend: 0, swing: 0 };
const OPEN = { ...FLAT, roll: 0, curl: 0, thumb: 0, spread: 0 };

/** @param {string} movement @returns {Drawn} */
const drawn = (movement) => /** @type {Drawn} */ (drawnFor(movement));

/** Where the side of the hand with this knuckle or tip points to. @param {string} movement @param {string} name @param {number} nth */
function pointing(movement, name, nth) {
  const balls = handLimbs(OPEN).filter((part) => part.name === name)[nth].balls;
  const [, up, near] = placedBy({ ...FLAT, roll: drawn(movement).roll })(balls[1].at);
  return { up, near };
}

/** @param {string} movement @param {Partial<import("../../../pwa_assets/js/pure/pacer.js").Turned>} [turned] */
const strokes = (movement, turned = {}, weighted = true) =>
  wristScene(drawn(movement), weighted)({ ...FLAT, open: 0, ...turned });

/** @param {import("../../../pwa_assets/js/pure/wrist_scene.js").Stroke[]} scene */
const still = (scene) => scene.slice(0, 2).map(({ d }) => d);

// Anatomy of a right arm seen from its own side, by any atlas: turned palm up, the thumb comes to the outer side, which
// is the near one here; palm down, it lies on the inner side.
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

test("a stretch shows the other hand, that pulls", () => {
  for (const movement of drawnMovements().filter((name) => drawn(name).way === "stretch")) {
    const skins = [movement, "palm_down"].map((name) => strokes(name, {}, false).filter(isSkin).length);
    assert.ok(skins[0] >= skins[1] + 9, movement);
  }
});

/** @param {import("../../../pwa_assets/js/pure/wrist_scene.js").Stroke} stroke */
const isIron = ({ kind }) => kind === "iron";

/** @param {import("../../../pwa_assets/js/pure/wrist_scene.js").Stroke} stroke */
const isSkin = ({ kind }) => kind === "skin";

/** The heights of a path's corners, down the paper. @param {import("../../../pwa_assets/js/pure/wrist_scene.js").Stroke} stroke */
const heights = ({ d }) => [...d.matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)].map(([, , y]) => Number(y));
