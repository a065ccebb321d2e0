import assert from "node:assert/strict";
import { test } from "node:test";
import { draw, seen } from "../../../pwa_assets/js/day/run.js";
import { newRun } from "../../../pwa_assets/js/pure/session/run.js";
import { page } from "../browser.js";
import { planWith, shortSession } from "../builders.js";

const MARKUP = `
  <template data-piece="run_open"><p data-slot="where"></p><button data-act="go_on"></button>
    <button data-act="restart"></button><button data-act="finish"></button></template>
  <template data-piece="run_stopped"><p data-slot="where"></p><button data-act="finish"></button></template>
  <section><h2 data-slot="run"></h2><div data-body></div></section>`;
const RUN = newRun(planWith(shortSession(), [{ arm: "right", dose: {} }]), "run-1");
const WORDS = { say: String, fill: String, day: String };

/** @param {boolean} isHeldNow */
const context = (isHeldNow) =>
  /** @type {any} */ ({
    run: RUN,
    today: RUN.on,
    days: [{ arm: "right", isHeldNow }],
    start: { waitsFor: "nothing" },
    course: { to: "training" },
  });

/** @param {boolean} isHeldNow @returns {Promise<(string|null)[]>} what the part offers */
async function offered(isHeldNow) {
  const body = await page(MARKUP);
  const part = /** @type {HTMLElement} */ (body.querySelector("section"));
  draw(part, context(isHeldNow), /** @type {any} */ ({ words: WORDS }), new AbortController().signal);
  return [...part.querySelectorAll("button")].map((button) => button.getAttribute("data-act"));
}

test("an open session of a stopped arm can only be finished", async () => {
  assert.deepEqual(await offered(false), ["go_on", "restart", "finish"]);
  assert.deepEqual(await offered(true), ["finish"]);
});

test("the part is drawn anew when its arm is stopped", () => {
  assert.notDeepEqual(seen(context(true)), seen(context(false)));
});
