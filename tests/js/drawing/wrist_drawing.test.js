import assert from "node:assert/strict";
import { test } from "node:test";
import { createWristDrawing } from "../../../pwa_assets/js/drawing/wrist_drawing.js";
import { drawnFor, drawnMovements } from "../../../pwa_assets/js/pure/drawing/drawn_movements.js";
import { turnedAt } from "../../../pwa_assets/js/pure/session/pacer.js";
import { stateAt } from "../../../pwa_assets/js/pure/session/timeline.js";
import { reps } from "../builders.js";

/** The part of an SVG element that a drawing needs. */
class Shape {
  /** @type {Record<string, string>} */
  attributes = {};
  /** @type {Shape[]} */
  children = [];

  get childElementCount() {
    return this.children.length;
  }

  /** @param {string} name @param {string} value */
  setAttribute(name, value) {
    this.attributes[name] = value;
  }

  /** @param {string} name */
  getAttribute(name) {
    return this.attributes[name] ?? null;
  }

  /** @param {Shape[]} more */
  append(...more) {
    this.children.push(...more);
  }

  /** @returns {Shape[]} */
  get all() {
    return [this, ...this.children.flatMap((child) => child.all)];
  }
}

/** A picture in the middle of the way up. @param {string} movement @param {{arm?: string, range?: number}} [how] */
function picture(movement, { arm = "right", range = 1 } = {}) {
  const drawn = /** @type {import("../../../pwa_assets/js/pure/drawing/drawn_movements.js").Drawn} */ (
    drawnFor(movement)
  );
  const drawing = createWristDrawing(/** @type {any} */ ({ createElementNS: () => new Shape() }));
  const set = reps(1, { range });
  drawing.show({ drawn, arm, weighted: true, range });
  drawing.turn(turnedAt(drawn, set, stateAt([set], 1000), false));
  const root = /** @type {Shape} */ (/** @type {unknown} */ (drawing.element));
  const frame = root.attributes.viewBox.split(" ").map(Number);
  const turn = /scale\((-?1) 1\)/.exec(root.children[0].attributes.transform);
  const paths = root.all.flatMap(({ attributes: { class: kind, d } }) => (d ? [{ kind, d }] : []));
  return { frame, across: Number(turn?.[1]), paths };
}

/** The position of an x of the drawing in the width of the picture: 0 is left, 1 is right. @param {ReturnType<typeof picture>} drawing @param {number} x */
const seenAt = ({ frame: [left, , width], across }, x) => (across * x - left) / width;

/** The numbers in the path of the day's range. @param {ReturnType<typeof picture>} drawing @returns {number[]} */
function dayLine({ paths }) {
  const line = paths.find(({ kind }) => kind === "wrist-day")?.d ?? "";
  return (line.match(/-?\d+(\.\d+)?(e-?\d+)?/g) ?? []).map(Number);
}

/** How far the loop of the day's range reaches across and down. @param {ReturnType<typeof picture>} drawing */
function reach(drawing) {
  const numbers = dayLine(drawing);
  const of = (/** @type {number} */ odd) => numbers.filter((_, i) => i % 2 === odd);
  return [of(0), of(1)].map((places) => Math.max(...places) - Math.min(...places));
}

test("the picture of a left arm is the mirror image of a right arm", () => {
  for (const movement of drawnMovements()) {
    const [right, left] = ["right", "left"].map((arm) => picture(movement, { arm }));
    assert.deepEqual(left.paths, right.paths);
    assert.deepEqual([left.frame[1], ...left.frame.slice(2)], [right.frame[1], ...right.frame.slice(2)]);
    for (const x of [-100, 0, 37]) assert.ok(Math.abs(seenAt(left, x) - (1 - seenAt(right, x))) < 1e-9, movement);
  }
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

test("the arc of a lift is shorter where the range is smaller, beside the whole one", () => {
  const [whole, less] = [picture("palm_down"), picture("palm_down", { range: 0.5 })];
  const [far, near] = [whole, less].map((drawing) => {
    const line = dayLine(drawing);
    return Math.hypot(line[0] - (line.at(-2) ?? 0), line[1] - (line.at(-1) ?? 0));
  });
  assert.ok(near < far * 0.7, `${near} of ${far}`);
  assert.ok(less.paths.some(({ kind }) => kind === "wrist-full"));
  assert.ok(!whole.paths.some(({ kind }) => kind === "wrist-full"));
});
