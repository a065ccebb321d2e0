import assert from "node:assert/strict";
import { test } from "node:test";
import { createWristDrawing } from "../../../pwa_assets/js/drawing/wrist_drawing.js";
import { drawnFor, drawnMovements } from "../../../pwa_assets/js/pure/drawing/drawn_movements.js";
import { turnedAt } from "../../../pwa_assets/js/pure/session/pacer.js";
import { stateAt } from "../../../pwa_assets/js/pure/session/timeline.js";
import { reps, step } from "../builders.js";

/** The part of an SVG element that a drawing needs. It counts what is set. */
class Shape {
  static sets = 0;
  /** @type {Record<string, string>} */
  attributes = {};
  /** @type {Shape[]} */
  children = [];

  /** @param {string} name @param {string} value */
  setAttribute(name, value) {
    Shape.sets++;
    this.attributes[name] = value;
  }

  /** @param {Shape[]} more */
  append(...more) {
    this.children.push(...more);
  }

  /** @param {Shape[]} more */
  replaceChildren(...more) {
    this.children = more;
  }

  /** @returns {Shape[]} what is shown of it */
  get seen() {
    return this.attributes.display === "none" ? [] : [this, ...this.children.flatMap((child) => child.seen)];
  }
}

/** A drawing that is shown and turned by hand. @param {string} movement @param {{arm?: string, range?: number}} [how] */
function drawing(movement, { arm = "right", range = 1 } = {}) {
  const drawn = /** @type {import("../../../pwa_assets/js/pure/drawing/drawn_movements.js").Drawn} */ (
    drawnFor(movement)
  );
  const made = createWristDrawing(/** @type {any} */ ({ createElementNS: () => new Shape() }));
  made.show({ drawn, arm, weighted: true, range });
  const root = /** @type {Shape} */ (/** @type {unknown} */ (made.element));
  /** @param {import("../builders.js").Step} of @param {number} ms @param {boolean} [isStill] */
  const turn = (of, ms, isStill) => made.turn(turnedAt(drawn, of, stateAt([of], ms), isStill));
  /** @param {string} kind */
  const found = (kind) => root.seen.filter(({ attributes }) => attributes.class === `wrist-${kind}`);
  return { root, turn, found };
}

/** A picture in the middle of the way up. @param {string} movement @param {{arm?: string, range?: number}} [how] */
function picture(movement, how = {}) {
  const { root, turn, found } = drawing(movement, how);
  turn(reps(1, { range: how.range ?? 1 }), 1000);
  const frame = root.attributes.viewBox.split(" ").map(Number);
  const placed = /scale\((-?1) 1\)/.exec(root.children[0].children[0].attributes.transform);
  const isCloth = /sleeve|stripe|cuff/;
  const paths = root.seen.flatMap(({ attributes: { class: kind, d } }) =>
    d && !isCloth.test(kind) ? [{ kind, d }] : [],
  );
  return { frame, across: Number(placed?.[1]), paths, found };
}

/** The position of an x of the drawing in the width of the picture: 0 is left, 1 is right. @param {ReturnType<typeof picture>} drawing @param {number} x */
const seenAt = ({ frame: [left, , width], across }, x) => (across * x - left) / width;

/** How far the loop of the day's range reaches across and down. @param {ReturnType<typeof picture>} drawing */
function reach({ found }) {
  const numbers = (found("day")[0].attributes.d.match(/-?\d+(\.\d+)?(e-?\d+)?/g) ?? []).map(Number);
  const of = (/** @type {number} */ odd) => numbers.filter((_, i) => i % 2 === odd);
  return [of(0), of(1)].map((places) => Math.max(...places) - Math.min(...places));
}

/** How far the filled part of the ruler goes from its left end. @param {Shape} gone */
function length(gone) {
  const [from, , to] = (gone.attributes.d.match(/-?[\d.]+/g) ?? []).map(Number);
  return to - from;
}

test("the picture of a right arm is the mirror image of a left arm, but for its sleeve", () => {
  for (const movement of drawnMovements()) {
    const [right, left] = ["right", "left"].map((arm) => picture(movement, { arm }));
    assert.deepEqual([right.across, left.across], [-1, 1]);
    assert.deepEqual(left.paths, right.paths);
    assert.deepEqual([left.frame[1], ...left.frame.slice(2)], [right.frame[1], ...right.frame.slice(2)]);
    for (const x of [-100, 0, 37]) assert.ok(Math.abs(seenAt(left, x) - (1 - seenAt(right, x))) < 1e-9, movement);
  }
});

test("an arm comes in from the edge of the picture on its own side, and a hanging one from above", () => {
  const kept = (/** @type {string} */ movement, /** @type {string} */ arm) =>
    drawing(movement, { arm }).root.attributes.preserveAspectRatio;
  assert.deepEqual([kept("palm_down", "left"), kept("palm_down", "right")], ["xMinYMid", "xMaxYMid"]);
  assert.equal(kept("little_finger_up", "left"), "xMidYMin");
});

test("two arms at once are both drawn, the left one on the left, and move alike", () => {
  const { root, turn, found } = drawing("palm_down", { arm: "both" });
  turn(reps(1), 1000);
  const places = root.children[0].children.map(({ attributes }) => attributes.transform);
  const [, left, right] =
    /translate\((\S+) 0\) scale\(1 1\) translate\((\S+) 0\) scale\(-1 1\)/.exec(places.join(" ")) ?? [];
  assert.ok(Number(left) < 0 && Number(right) === -Number(left));
  assert.deepEqual([found("sleeve-left").length, found("sleeve-right").length], [1, 1]);
  const swept = found("swept").map(({ attributes }) => attributes.d);
  assert.ok(swept[0]);
  assert.deepEqual(swept, [swept[0], swept[0]]);
});

test("the loop of a circle shrinks with the range", () => {
  for (const movement of ["circles_thumb_first", "circles_little_first"]) {
    const whole = reach(picture(movement));
    for (const range of [0.75, 0.5]) {
      const less = reach(picture(movement, { range }));
      for (const [i, far] of less.entries()) {
        assert.ok(Math.abs(far / whole[i] - range) < 0.08, `${movement}: ${far} of ${whole[i]} at ${range}`);
      }
    }
  }
});

test("the half turn stands at a wrist that lifts, and nowhere else", () => {
  for (const movement of drawnMovements()) {
    const { turn, found } = drawing(movement);
    turn(reps(1), 1000);
    assert.equal(found("half").length, Number(drawnFor(movement)?.way === "lift"), movement);
  }
});

test("a stretch and a rest tell their time by a ruler from left to right, never by an arc", () => {
  for (const [movement, of] of /** @type {const} */ ([
    ["stretch_palm_down", step("hold", 30)],
    ["palm_down", step("rest", 20)],
    ["circles_thumb_first", step("change_arm", 20)],
  ])) {
    for (const arm of ["left", "right"]) {
      const { root, turn, found } = drawing(movement, { arm });
      const gone = [0.25, 0.5, 1].map((part) => {
        turn(of, of.seconds * 1000 * part - 1);
        return length(found("gone")[0]);
      });
      assert.ok(
        gone[0] > 0 && Math.abs(gone[1] / gone[0] - 2) < 0.02 && Math.abs(gone[2] / gone[1] - 2) < 0.02,
        movement,
      );
      for (const kind of ["half", "swept", "day", "mark"])
        assert.ok(!found(kind).some(({ attributes }) => attributes.d), `${movement}: ${kind}`);
      assert.ok(!root.children[0].seen.includes(found("gone")[0]), "the mirror does not turn time round");
    }
  }
});

test("there is no ruler where reps are counted", () => {
  const { turn, found } = drawing("palm_down");
  turn(step("rest", 20), 5000);
  turn(reps(1), 1000);
  assert.equal(found("ruler").length, 0);
  assert.equal(found("half").length, 1);
});

test("a ruler has a line for each second but its ends", () => {
  const { turn, found } = drawing("stretch_palm_up");
  turn(step("hold", 20), 4000);
  assert.equal(found("ticks")[0].attributes.d.match(/M/g)?.length, 19);
});

test("without motion there are two pictures of a set, swapped at the turn", () => {
  for (const movement of ["fingers", "circles_thumb_first", "palm_down", "little_finger_up"]) {
    const { root, turn } = drawing(movement);
    const pictures = [0, 700, 1999, 2000, 3500, 4999].map((ms) => {
      turn(reps(1), ms, true);
      return JSON.stringify(root);
    });
    assert.equal(new Set(pictures.slice(0, 3)).size, 1, movement);
    assert.equal(new Set(pictures.slice(3)).size, 1, movement);
    assert.notEqual(pictures[0], pictures[3], movement);
  }
});

test("nothing is set while nothing moves, and little while something does", () => {
  const { turn } = drawing("palm_down");
  turn(reps(1), 1000);
  Shape.sets = 0;
  turn(reps(1), 1000);
  assert.equal(Shape.sets, 0);
  turn(reps(1), 1033);
  assert.ok(Shape.sets > 0 && Shape.sets < 16, `${Shape.sets}`);
});
