import assert from "node:assert/strict";
import { test } from "node:test";
import {
  bandPath,
  curve,
  flipped,
  joints,
  lengthOf,
  limbPath,
  turned,
} from "../../../../pwa_assets/js/pure/drawing/limb.js";

/** @typedef {import("../../../../pwa_assets/js/pure/drawing/limb.js").Joint} Joint */

const BONE = joints("0 0 10, 50 0 10, 100 0 6");

/** @param {string} d */
const spots = (d) => [...d.matchAll(/(-?[\d.]+) (-?[\d.]+)(?=[LQZ ]|$)/g)].map(([, x, y]) => [Number(x), Number(y)]);

/** @param {number} value @param {number} to */
const near = (value, to) => assert.ok(Math.abs(value - to) < 1e-6, `${value} is not ${to}`);

test("joints are read from their text", () => {
  assert.deepEqual(joints("-1 2.5 3, 4 5 6"), [
    [-1, 2.5, 3],
    [4, 5, 6],
  ]);
});

test("a curve goes through every joint", () => {
  const along = curve(joints("0 0 4, 10 20 3, 30 10 2"));
  for (const joint of joints("0 0 4, 10 20 3, 30 10 2")) {
    assert.ok(along.some((each) => each.every((value, axis) => Math.abs(value - joint[axis]) < 1e-9)));
  }
});

test("two parts of a limb meet without a step: the joints before and after a part lead it", () => {
  const bent = joints("0 0 10, 50 0 12, 100 30 8, 130 80 6");
  const [before, after] = [limbPath(bent, 0, 2), limbPath(bent, 2)].map((d) => spots(d.split("Z")[0]));
  for (const side of [1, -1]) {
    const met = before.some((spot) => after.some(([x, y]) => x === spot[0] && y === spot[1] && (y - 30) * side > 0));
    assert.ok(met, `side ${side}`);
  }
});

test("a limb is as thick as its joints say", () => {
  const sides = limbPath(BONE).split("Z")[0];
  const heights = spots(sides).map(([, y]) => y);
  assert.ok(Math.min(...heights) > -10.8 && Math.min(...heights) < -9.5);
  assert.ok(Math.max(...heights) < 10.8 && Math.max(...heights) > 9.5);
});

test("a limb is turned round the wrist and keeps its length", () => {
  const [[x, y]] = turned([[100, 0, 5]], 90);
  near(x, 0);
  near(y, 100);
  near(lengthOf(turned(BONE, 33)), lengthOf(BONE));
});

test("a limb that is turned over twice is the same limb", () => {
  assert.deepEqual(flipped(flipped(joints("3 4 5"))), joints("3 4 5"));
});

test("a sleeve's stripe is cut straight across, at the distance that is asked", () => {
  const band = spots(bandPath(joints("0 0 10, 100 0 10"), 20, 32));
  assert.deepEqual(band, [
    [20, -10],
    [32, -10],
    [32, 10],
    [20, 10],
  ]);
});
