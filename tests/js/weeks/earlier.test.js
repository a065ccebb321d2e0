import assert from "node:assert/strict";
import { test } from "node:test";
import { calendar } from "../../../pwa_assets/js/edges/screen/dates.js";
import { start } from "../../../pwa_assets/js/weeks/earlier.js";
import { page } from "../browser.js";

const SCREEN = `<template data-screen="earlier"><h1><b data-slot="weekday"></b> <i data-slot="date"></i></h1><p data-slot="none"></p>
  <a data-way="before"></a><a data-way="after"></a></template><main id="page"></main>`;
const YESTERDAY = "2026-03-01";
const nothing = () => undefined;

/** @param {string} hash of the address @returns {Promise<string|null|undefined>} the date that the page names */
async function dateAt(hash) {
  const root = /** @type {any} */ ((await page(SCREEN)).querySelector("#page"));
  Object.defineProperty(globalThis, "location", { value: { hash }, configurable: true });
  const store = { bundle: async () => null, lasting: async () => [], onChange: () => nothing };
  const words = { ...calendar("en", []), say: String };
  const stop = start(root, /** @type {any} */ ({ store, clock: { today: () => "2026-03-02" }, words }));
  await new Promise((resolve) => setImmediate(resolve));
  stop();
  return root.querySelector("i").textContent;
}

test("an address with a day that does not exist shows yesterday, as one without a day", async () => {
  const { date } = calendar("en", []);
  assert.equal(await dateAt("#earlier?on=2026-02-20"), date("2026-02-20"));
  for (const wrong of ["", "?on=soon", "?on=2026-99-99", "?on=2026-02-30", "?on=0000-01-01"])
    assert.equal(await dateAt(`#earlier${wrong}`), date(YESTERDAY), wrong);
});
