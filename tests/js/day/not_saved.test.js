import assert from "node:assert/strict";
import { test } from "node:test";
import * as activity from "../../../pwa_assets/js/day/activity.js";
import * as habit from "../../../pwa_assets/js/day/habit.js";
import * as letters from "../../../pwa_assets/js/day/letters.js";
import { page } from "../browser.js";
import { event } from "../small_bundle.js";

const TODAY = "2026-03-09";
const PIECES = `
  <template data-piece="activity"><b data-slot="activity"></b><select><option value=""></option></select><p data-fault hidden></p>
    <button data-act="save_rating"></button><button data-act="put_off"></button></template>
  <template data-piece="habit"><p data-slot="name"></p><ol data-week></ol><button data-act="today"></button>
    <button data-act="yesterday"></button><button data-act="unsuited"></button><p data-fault hidden></p></template>
  <template data-piece="habit_day"><li></li></template>
  <template data-piece="answer"><p data-slot="text"></p></template>
  <template data-piece="answer_acts"><button data-act="read"></button><p data-fault hidden></p></template>
  <main id="page"><h1 tabindex="-1"></h1><section><div data-body></div></section></main>`;
const words = {
  say: (/** @type {string} */ key) => key,
  fill: (/** @type {string} */ key) => key,
  number: String,
  date: String,
  weekday: String,
};
const ROUTINE = event(1, "routine_received", "2026-03-02", { version: 1 });
const INTAKE = event(2, "intake_confirmed", "2026-03-02", {});
/** @type {any} */
const HABIT = { name: "Rest the mouse", text: "", caution: "", basis: "" };

/** Stands in for the browser's Option, which the page of the tests lacks. @param {string} text @param {string} value */
function option(text, value) {
  const made = document.createElement("option");
  made.textContent = text;
  made.value = value;
  return made;
}

/** @param {any} part @param {any} context @returns {Promise<{section: HTMLElement, announced: string[]}>} */
async function drawn(part, context) {
  const section = /** @type {HTMLElement} */ ((await page(PIECES)).querySelector("section"));
  Object.defineProperty(globalThis, "Option", { value: option, configurable: true });
  /** @type {string[]} */
  const announced = [];
  const fail = async () => {
    throw new Error("the disk is full");
  };
  const store = { addEvents: fail, setMeta: fail };
  const announce = (/** @type {string} */ text) => void announced.push(text);
  part.draw(section, context, { store, words, announce }, new AbortController().signal);
  return { section, announced };
}

/** @param {HTMLElement} section @param {string} act @returns {Promise<string|null>} the fault that is shown then */
async function faultAfter(section, act) {
  /** @type {any} */ (section.querySelector(`[data-act="${act}"]`)).click();
  await new Promise((resolve) => setImmediate(resolve));
  const fault = /** @type {any} */ (section.querySelector("[data-fault]"));
  return fault.hidden ? null : fault.textContent;
}

test("a rating of an activity that is not saved says so, and so does a missing one", async () => {
  const { section, announced } = await drawn(activity, { bundle: {}, events: [], today: TODAY });
  assert.equal(await faultAfter(section, "save_rating"), "activity.missing");
  /** @type {any} */ (section.querySelector("select")).value = "4";
  assert.equal(await faultAfter(section, "save_rating"), "day.not_saved");
  assert.equal(await faultAfter(section, "put_off"), "day.not_kept");
  assert.deepEqual(announced, []);
});

test("a habit's tick that is not saved says so", async () => {
  const chosen = event(3, "habit_chosen", "2026-03-08", { habit: "mouse", by: "Hedda" });
  const context = { bundle: { habits: { mouse: HABIT } }, events: [ROUTINE, INTAKE, chosen], today: TODAY };
  for (const act of ["today", "yesterday", "unsuited"]) {
    const { section } = await drawn(habit, context);
    assert.equal(await faultAfter(section, act), "day.not_kept", act);
  }
});

test("a letter that cannot be noted as read says so, and stays", async () => {
  const answer = event(4, "letter_answered", "2026-03-08", { text: "Rest today.", by: "Hedda" });
  const { section, announced } = await drawn(letters, { events: [answer], today: TODAY });
  assert.equal(await faultAfter(section, "read"), "day.not_kept");
  assert.equal(section.querySelector('[data-slot="text"]')?.textContent, "Rest today.");
  assert.deepEqual(announced, []);
});
