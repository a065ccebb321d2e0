import assert from "node:assert/strict";
import { test } from "node:test";
import { oneAtATime } from "../../../pwa_assets/js/day/page.js";

/** A drawing that ends when a test says so. */
function slow() {
  /** @type {(() => void)[]} */
  const ends = [];
  const draw = () => new Promise((/** @type {(value: void) => void} */ resolve) => ends.push(() => resolve()));
  return { draw, ends };
}

const settle = () => new Promise((resolve) => setImmediate(resolve));

test("however often a page is asked to draw while it draws, it draws once more", async () => {
  const { draw, ends } = slow();
  const redraw = oneAtATime(draw);
  const drawings = [redraw(), redraw(), redraw()];
  assert.equal(ends.length, 1);
  ends[0]();
  await settle();
  assert.equal(ends.length, 2);
  ends[1]();
  await Promise.all(drawings);
  assert.equal(ends.length, 2);
});

test("a page that is idle draws at once, and draws again after a drawing that failed", async () => {
  let drawn = 0;
  const redraw = oneAtATime(async () => {
    drawn += 1;
    if (drawn === 1) throw new Error("storage is closing");
  });
  await assert.rejects(redraw());
  await redraw();
  assert.equal(drawn, 2);
});

test("a call in the very moment in which a drawing ends is drawn too", async () => {
  let drawn = 0;
  const redraw = oneAtATime(async () => {
    drawn += 1;
  });
  const first = redraw();
  // Calls it after every microtask until the first drawing is over.
  let isOver = false;
  void first.then(() => (isOver = true));
  let drawnBefore = 0;
  while (!isOver) {
    await null;
    drawnBefore = drawn;
    void redraw();
  }
  await settle();
  assert.ok(drawn > drawnBefore, `${drawn} drawn, the last call came after ${drawnBefore}`);
});
