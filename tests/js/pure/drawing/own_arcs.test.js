import assert from "node:assert/strict";
import { test } from "node:test";
import { drawnFor } from "../../../../pwa_assets/js/pure/drawing/drawn_movements.js";
import { marksOf } from "../../../../pwa_assets/js/pure/session/pacer.js";

/** @typedef {import("../../../../pwa_assets/js/pure/drawing/drawn_movements.js").Drawn} Drawn */

test("an own movement has the drawing of the shipped one and turns as far as its own arc", () => {
  const drawn = /** @type {Drawn} */ (drawnFor("palm_down", { like: "palm_down", up: 40, down: 20 }));
  assert.deepEqual(marksOf(drawn, 0.5), { top: 20, bottom: -10 });
  assert.equal(drawn.side, drawnFor("palm_down")?.side);
});

test("under an id of its own it is found by what it is like", () => {
  const drawn = drawnFor("own-1", { like: "stretch_palm_up", down: 40 });
  assert.deepEqual([drawn?.way, drawn?.up, drawn?.down], ["stretch", 0, 40]);
  assert.equal(drawnFor("own-1"), null);
});

test("a circle is as wide down as up", () => {
  const drawn = drawnFor("own-2", { like: "circles_thumb_first", up: 20 });
  assert.deepEqual([drawn?.up, drawn?.down], [20, 20]);
});

test("the drawing of a shipped movement stays as it is", () => {
  drawnFor("palm_down", { like: "palm_down", up: 30, down: 20 });
  assert.deepEqual([drawnFor("palm_down")?.up, drawnFor("palm_down")?.down], [55, 35]);
});
