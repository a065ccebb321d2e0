import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";
import { createNaming } from "../../../../pwa_assets/js/edges/screen/naming.js";
import { createWords } from "../../../../pwa_assets/js/edges/screen/words.js";
import { page } from "../../browser.js";

/** @type {Map<string, string>} */
let kept;

beforeEach(() => {
  kept = new Map();
  const localStorage = {
    getItem: (/** @type {string} */ key) => kept.get(key) ?? null,
    setItem: (/** @type {string} */ key, /** @type {string} */ value) => void kept.set(key, value),
    removeItem: (/** @type {string} */ key) => void kept.delete(key),
  };
  Object.defineProperty(globalThis, "localStorage", { value: localStorage, configurable: true });
});

test("an own name stands beside the side, and never in its place", async () => {
  const naming = createNaming("en");
  await page(
    `<template data-word="arm.right">right arm</template><template data-word="arm.left">left arm</template>
     <template data-fill="arm.own">{arm} ({name})</template>`,
  );
  const words = createWords(document, naming.nameOf);
  assert.equal(words.say("arm.right"), "right arm");
  assert.ok(naming.choose({ unit: "own", right: "  bow arm ", left: "" }));
  assert.deepEqual(["arm.right", "arm.left"].map(words.say), ["right arm (bow arm)", "left arm"]);
  naming.forget();
  assert.equal(words.say("arm.right"), "right arm");
});

test("what somebody else has put there, and a name that is too long, do no harm", () => {
  const naming = createNaming("en");
  const plain = { unit: "own", right: "", left: "" };
  for (const text of ["", "[]", "null", '"lb"', '{"unit":"stone","right":7}']) {
    kept.set("halfturn-naming", text);
    assert.deepEqual(naming.chosen(), plain, text);
  }
  kept.set("halfturn-naming", JSON.stringify({ unit: "lb", left: "x".repeat(500) }));
  assert.deepEqual([naming.unit(), naming.nameOf("left").length, naming.nameOf("both")], ["lb", 20, ""]);
});

test("amounts are written as the language has them", () => {
  const bundle = /** @type {any} */ ({ doses: [{ sets: [{ load: "3 lb", load_kg: 3 * 0.45359237 }] }], steps: [] });
  createNaming("es").choose({ unit: "kg", right: "", left: "" });
  assert.equal(createNaming("es").said(bundle).doses[0].sets[0].load, "1,36 kg (3 lb)");
});
