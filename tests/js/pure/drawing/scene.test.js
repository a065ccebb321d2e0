import assert from "node:assert/strict";
import { test } from "node:test";
import { drawnFor, drawnMovements } from "../../../../pwa_assets/js/pure/drawing/drawn_movements.js";
import { pullLeft, sceneOf } from "../../../../pwa_assets/js/pure/drawing/scene.js";
import { carried, matrixOf } from "../../../../pwa_assets/js/pure/drawing/wrist.js";

/** @typedef {import("../../../../pwa_assets/js/pure/drawing/drawn_movements.js").Drawn} Drawn */
/** @typedef {import("../../../../pwa_assets/js/pure/drawing/ink.js").Stroke} Stroke */

const LIFTS = ["palm_down", "palm_up", "thumb_up", "little_finger_up"];
const STRETCHES = ["stretch_palm_down", "stretch_palm_up", "stretch_palm_up_soft"];
const STRAIGHT = { bend: 0, swing: 0, open: 0 };

/** @param {string} movement */
const drawn = (movement) => /** @type {Drawn} */ (drawnFor(movement));

/** @param {string} movement @param {{isLeft?: boolean, weighted?: boolean}} [how] */
const before = (movement, { isLeft = true, weighted = false } = {}) =>
  sceneOf(drawn(movement), isLeft, weighted).before;

/** @param {Stroke[]} strokes @param {string} kind */
const ofKind = (strokes, kind) => strokes.filter((stroke) => stroke.kind === kind);

/** @param {Stroke} stroke @param {Partial<typeof STRAIGHT>} [pose] */
const pathOf = ({ d }, pose = {}) => (typeof d === "function" ? d({ ...STRAIGHT, ...pose }) : d);

/** The corners of a path; y points down. @param {Stroke} stroke @param {Partial<typeof STRAIGHT>} [pose] */
const spots = (stroke, pose) =>
  [...pathOf(stroke, pose).matchAll(/(-?[\d.]+) (-?[\d.]+)(?=[MLQZa]|$)/g)].map(([, x, y]) => [Number(x), Number(y)]);

/** The highest point of strokes. @param {Stroke[]} strokes */
const top = (strokes) => Math.min(...strokes.flatMap((stroke) => spots(stroke).map(([, y]) => y)));

// Published norms of joint motion (aaos-motion): a forearm turns 80 degrees from thumb up to palm up. Thumb up is 90 here.
test("no forearm is turned farther than a forearm turns", () => {
  for (const movement of drawnMovements()) assert.ok(drawn(movement).roll <= 90 + 80, movement);
  for (const movement of ["palm_up", ...STRETCHES.slice(1)]) assert.ok(drawn(movement).roll >= 150, movement);
});

test("palm up, the thumb's side is the higher one: thumb and forefinger are seen above the little finger", () => {
  const scene = before("palm_up");
  const fills = ofKind(scene, "skin").filter(({ on }) => on === "hand");
  const [thumb, middle, , little] = fills.map((stroke) => top([stroke]));
  assert.ok(thumb < little - 4, `${thumb} over ${little}`);
  assert.ok(middle < little - 4, `${middle} over ${little}`);
});

test("a thumb without a weight lies on the fist: nothing stands out above the hand, as in a sign of approval", () => {
  const hand = before("thumb_up").filter(({ on, kind }) => on === "hand" && kind === "skin");
  const held = before("thumb_up", { weighted: true }).filter(({ on, kind }) => on === "hand" && kind === "skin");
  assert.equal(top(hand), top(held));
  // The thumb of a fist reaches a thumb's thickness (22 mm here) over the knuckles, not its length.
  assert.ok(top(hand) > -29 - 22, `${top(hand)}`);
});

test("a weight is drawn only where there is one", () => {
  for (const movement of LIFTS) {
    assert.ok(ofKind(before(movement, { weighted: true }), "iron").length > 0, movement);
    assert.equal(ofKind(before(movement), "iron").length, 0, movement);
  }
});

test("standing, the weight is held by one end: far more of it is behind the hand than before it", () => {
  const [weight] = ofKind(before("little_finger_up", { weighted: true }), "iron");
  const across = spots(weight).map(([, y]) => y);
  assert.ok(-Math.min(...across) > 1.8 * Math.max(...across));
});

test("what leads is marked in the sets and nowhere else, and edged, so that colour is not alone", () => {
  for (const movement of drawnMovements()) {
    const [fills, edges] = ["lead", "lead-edge"].map((kind) => ofKind(before(movement), kind).length);
    assert.deepEqual([fills, edges], LIFTS.includes(movement) ? [1, 1] : [0, 0], movement);
  }
});

test("a left sleeve is striped and a right one is plain; the other arm of a stretch has the other sleeve", () => {
  for (const movement of drawnMovements()) {
    for (const isLeft of [true, false]) {
      const sleeves = before(movement, { isLeft }).filter(({ kind }) => /^sleeve-(left|right)/.test(kind));
      const own = isLeft ? ["sleeve-left"] : ["sleeve-right"];
      const other = isLeft ? ["sleeve-right"] : ["sleeve-left"];
      assert.deepEqual(
        sleeves.map(({ kind }) => kind),
        STRETCHES.includes(movement) ? [...own, ...other] : own,
        movement,
      );
    }
  }
});

test("the two arms of a person are drawn by the same lines but for the sleeves", () => {
  const isCloth = (/** @type {Stroke} */ { kind }) => /sleeve|stripe|cuff/.test(kind);
  for (const movement of drawnMovements()) {
    const [left, right] = [true, false].map((isLeft) =>
      before(movement, { isLeft })
        .filter((stroke) => !isCloth(stroke))
        .map((stroke) => pathOf(stroke)),
    );
    assert.deepEqual(left, right, movement);
  }
});

test("table, thigh and the leg of one who stands lie still", () => {
  for (const movement of [...LIFTS, "fingers", "circles_thumb_first"]) {
    const { behind } = sceneOf(drawn(movement), true, false);
    assert.ok(behind.length > 0, movement);
    assert.ok(behind.every(({ on, d }) => on === "still" && typeof d === "string"));
  }
});

test("the skin of the wrist follows the hand: forearm and hand are one shape at every bend", () => {
  for (const movement of LIFTS) {
    const skin = ofKind(before(movement), "ink").find(({ on, d }) => on === "still" && typeof d === "function");
    assert.ok(skin, movement);
    for (const bend of [drawn(movement).up, 0, -drawn(movement).down]) {
      const [[x, y]] = carried([[40, 0, 0]], { ...STRAIGHT, bend });
      const nearest = Math.min(...spots(skin, { bend }).map(([toX, toY]) => Math.hypot(x - toX, y - toY)));
      assert.ok(nearest < 40, `${movement} at ${bend}: ${nearest}`);
    }
  }
});

test("up is up: the matrix lifts the fingers at a positive bend", () => {
  const [a, b] = matrixOf({ bend: 30, swing: 0 });
  assert.ok(Math.abs(a - Math.cos(Math.PI / 6)) < 1e-9);
  assert.ok(Math.abs(b + Math.sin(Math.PI / 6)) < 1e-9);
});

// Written instructions: hold round the back of the hand palm down, and across the palm, below the fingers, palm up.
// A middling hand: its knuckles are some 90 mm from the wrist (the drawn forefinger begins at 88).
test("the other hand holds the hand, not its fingers, and stays on it all the way", () => {
  for (const movement of STRETCHES) {
    const { held = Number.NaN, down } = drawn(movement);
    assert.ok(held > 40 && held < 88, movement);
    assert.deepEqual(pullLeft(drawn(movement), -down).map(Math.round), [0, 0]);
    const [dx, dy] = pullLeft(drawn(movement), 0);
    assert.ok(dx > 0 && dy < 0, "before the pull it is farther out and higher");
  }
});

// Clinical reading of the pictures: palm down 55 to 60 degrees (85 to 90 is a target too far); the soft stretch with the elbow
// bent by 30 to 45 degrees only, as more of it is the test that provokes the ulnar nerve.
test("stretches end where they should, with the elbow as it should be", () => {
  const [down, up, soft] = STRETCHES.map(drawn);
  for (const { down: end } of [down, up, soft]) assert.ok(end >= 55 && end <= 60);
  assert.ok((down.elbow ?? 0) > 0 && (down.elbow ?? 0) < 20);
  assert.equal(up.elbow, 0);
  assert.ok((soft.elbow ?? 0) >= 30 && (soft.elbow ?? 0) <= 45);
});

test("fingers fold from an open hand to a fist", () => {
  const reach = (/** @type {number} */ open) =>
    Math.max(...ofKind(before("fingers"), "skin").flatMap((stroke) => spots(stroke, { open }).map(([x]) => x)));
  const reaches = [1, 0.75, 0.5, 0.25, 0].map(reach);
  assert.ok(reaches[0] > 180, "the middle finger of a middling open hand is some 190 mm from the wrist");
  assert.ok(reaches[4] < 120);
  assert.ok(
    reaches.every((far, i) => !i || far <= reaches[i - 1]),
    `${reaches}`,
  );
});
