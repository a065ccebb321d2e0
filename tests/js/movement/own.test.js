import assert from "node:assert/strict";
import { test } from "node:test";
import { page } from "../browser.js";

// The markup of templates/movement/page.html, as far as the script asks for it.
await page(`<template data-piece="movement_own"><article data-title="">
  <ul data-how></ul><h2 data-not-so>Not so</h2><ul data-not-so data-mistakes></ul><p data-purpose></p><p data-cautions></p>
  <p class="leaf-caution">Sharp: stop.</p></article></template>`);
const { ownLeaf } = await import("../../../pwa_assets/js/movement/own.js");

const OWN = /** @type {any} */ ({
  name: "Over a roll",
  mistakes: ["Do not press."],
  leave_out: "Leave it out while the hand tingles.",
  cues: { up: "Lift", down: "Down" },
  own: { like: "palm_down", how: ["<b>Roll</b> a towel."], purpose: "Why", cautions: ["Above 5 stop.", "Mine."] },
});

/** @param {Element|null} leaf @param {string} selector */
const texts = (leaf, selector) => [...(leaf?.querySelectorAll(selector) ?? [])].map((each) => each.textContent);

test("an own movement is told by its own words, and markup in them is only letters", () => {
  const leaf = ownLeaf(OWN);
  assert.equal(leaf?.dataset.title, "Over a roll");
  assert.deepEqual(texts(leaf, "[data-how] li"), ["<b>Roll</b> a towel."]);
  assert.deepEqual(texts(leaf, "[data-mistakes] li"), ["Do not press."]);
  assert.deepEqual(texts(leaf, "[data-purpose]"), ["Why"]);
});

test("the shipped caution comes before the own ones, and the last is the one of every movement", () => {
  const cautions = [OWN.leave_out, "Above 5 stop.", "Mine.", "Sharp: stop."];
  assert.deepEqual(texts(ownLeaf(OWN), ".leaf-caution"), cautions);
});

test("without common mistakes their heading is not shown", () => {
  const leaf = ownLeaf({ ...OWN, mistakes: [] });
  const parts = /** @type {HTMLElement[]} */ ([...(leaf?.querySelectorAll("[data-not-so]") ?? [])]);
  assert.deepEqual(
    parts.map(({ hidden }) => hidden),
    [true, true],
  );
});

test("a movement that comes with the program has no page of this kind", () => {
  assert.equal(ownLeaf(/** @type {any} */ ({ ...OWN, own: undefined })), null);
  assert.equal(ownLeaf(undefined), null);
});
