import assert from "node:assert/strict";
import { test } from "node:test";
import { start } from "../../../pwa_assets/js/morning/page.js";
import { page } from "../browser.js";
import { anchorAt, BUNDLE, event, FIRST, HELD } from "../small_bundle.js";

const [BEGAN, MORNING, TODAY] = ["2026-03-01", "2026-03-08", "2026-03-09"];
const RADIOS = (/** @type {(string|number)[]} */ values) =>
  values.map((value) => `<label><input type="radio" value="${value}"><span></span></label>`).join("");
const MARKUP = `
  <template data-screen="morning"><h1 data-slot="title"></h1><p data-slot="about"></p><section data-body></section></template>
  <template data-piece="morning_form"><form><p data-slot="lead"></p><div data-arms></div><p data-fault hidden></p>
    <button type="submit"></button></form></template>
  <template data-piece="morning_stays"><p class="stays"><span data-slot="text"></span> <a href="#letters"></a></p></template>
  <template data-piece="scale"><fieldset><legend data-slot="legend"></legend><div class="scale-marks">${RADIOS([...Array(11).keys()])}</div>
    </fieldset></template>
  <template data-piece="yes_no"><fieldset><legend data-slot="legend"></legend>${RADIOS(["no", "yes"])}</fieldset></template>
  <main id="page"></main>`;
const WORDS = {
  say: String,
  day: String,
  number: String,
  fill: (/** @type {string} */ key, /** @type {any} */ gaps) => `${key} ${gaps.arm}`,
  list: String,
};
const settled = () => new Promise((resolve) => setTimeout(resolve));

/**
 * @param {Record<string, object>} arms what was told on the morning
 * @param {{on?: string, days?: any[], row?: number}} [shown] the day that the page is about, and where the arms stand
 */
async function correcting(arms, { on = MORNING, days = [], row = FIRST } = {}) {
  const body = await page(MARKUP);
  const hash = `#morning?${on}`;
  Object.assign(globalThis, { location: { hash } });
  /** @type {any[]} */
  const saved = [];
  const events = [event(1, "routine_received", BEGAN, { version: 3 }), event(2, "morning_reported", on, { arms })];
  const anchors = { right: anchorAt(row, BEGAN), left: anchorAt(FIRST, BEGAN) };
  const store = {
    snapshot: async () => ({ today: TODAY, bundle: BUNDLE, anchors, events, days }),
    addEvents: async (/** @type {any[]} */ ...drafts) => void saved.push(...drafts),
  };
  const edges = { words: WORDS, store, clock: { today: () => TODAY }, go: () => undefined, announce: () => undefined };
  const root = /** @type {HTMLElement} */ (body.querySelector("#page"));
  const stop = start(root, /** @type {any} */ (edges));
  await settled();
  const fields = [...new Set([...root.querySelectorAll("input")].map(({ name }) => name))];
  const save = async () => {
    root.querySelector("form")?.dispatchEvent(new window.Event("submit", { bubbles: true, cancelable: true }));
    await settled();
    stop();
    return saved[0]?.body.body.arms;
  };
  /** @param {string} name @param {string|number} value */
  const choose = (name, value) => {
    for (const input of root.querySelectorAll(`input[name="${name}"]`))
      if (input instanceof HTMLInputElement) input.checked = input.value === String(value);
  };
  /** Press the button once. @returns {Promise<[string|null, number]>} what is said beside it, and how much is saved */
  const press = async () => {
    root.querySelector("form")?.dispatchEvent(new window.Event("submit", { bubbles: true, cancelable: true }));
    await settled();
    const fault = /** @type {HTMLElement} */ (root.querySelector("[data-fault]"));
    return [fault.hasAttribute("hidden") ? null : fault.textContent, saved.length];
  };
  return { fields, stays: root.querySelector(".stays")?.textContent?.trim(), save, choose, press };
}

const CALM = { pain: 1, sharp: false };

test("an earlier answer that stops an arm is not asked again, and stays when the other arm is corrected", async () => {
  for (const stopping of [
    { pain: 9, sharp: false },
    { pain: 1, sharp: true },
  ]) {
    const { fields, stays, save } = await correcting({ right: stopping, left: CALM });
    assert.deepEqual(fields, ["pain-left", "sharp-left"]);
    assert.equal(stays, "morning.stays arm.right");
    assert.deepEqual(await save(), { right: stopping, left: CALM });
  }
});

test("no earlier answer of an arm that is held is asked again", async () => {
  const days = [
    { arm: "right", isHeldNow: true },
    { arm: "left", isHeldNow: false },
  ];
  const { fields } = await correcting({ right: { pain: 5, sharp: false }, left: CALM }, { days, row: HELD });
  assert.deepEqual(fields, ["pain-left", "sharp-left"]);
});

test("an answer of this very morning can be corrected, and so can an earlier one that stops nothing", async () => {
  const all = ["pain-right", "sharp-right", "pain-left", "sharp-left"];
  assert.deepEqual((await correcting({ right: { pain: 9, sharp: true }, left: CALM }, { on: TODAY })).fields, all);
  const { fields, stays } = await correcting({ right: { pain: 5, sharp: false }, left: CALM });
  assert.deepEqual([fields, stays], [all, undefined]);
});

test("a correction keeps that there was more than soreness", async () => {
  const right = { pain: 2, sharp: false, besides: true };
  const { save } = await correcting({ right, left: CALM }, { on: TODAY });
  assert.deepEqual(await save(), { right, left: CALM });
});

test("a stop in an earlier morning is asked about once before it is saved, and asked again after a change", async () => {
  const { choose, press } = await correcting({ right: CALM, left: CALM });
  choose("pain-right", 8);
  assert.deepEqual(await press(), ["morning.stops arm.right", 0]);
  choose("pain-right", 9);
  assert.deepEqual(await press(), ["morning.stops arm.right", 0]);
  assert.equal((await press())[1], 1);
});

test("a slip that is put right after the question is saved as it then is", async () => {
  const { choose, press } = await correcting({ right: CALM, left: CALM });
  choose("sharp-left", "yes");
  assert.deepEqual(await press(), ["morning.stops arm.left", 0]);
  choose("sharp-left", "no");
  assert.deepEqual(await press(), [null, 1]);
});

test("this morning can be corrected on its own day, so no question is put before it", async () => {
  const { choose, press } = await correcting({ right: CALM, left: CALM }, { on: TODAY });
  choose("pain-right", 8);
  assert.deepEqual(await press(), [null, 1]);
});
