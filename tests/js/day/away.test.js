import assert from "node:assert/strict";
import { test } from "node:test";
import { draw, seen } from "../../../pwa_assets/js/day/away.js";
import { page } from "../browser.js";

const MARKUP = `
  <main id="page"><section><p data-slot="away"></p><div data-body></div></section></main>
  <template data-piece="away_form"><p data-slot="lead"></p><form><input type="radio" name="away" value="ill" checked>
    <div data-long><input type="checkbox" name="happened" value="injection" checked></div><p data-fault hidden></p>
    <button type="submit"></button><button type="button" data-act="put_off"></button></form></template>`;
const WORDS = { say: String, fill: String, day: String };
const ABSENCE = { first: "2026-02-01", last: "2026-02-20", days: 20, isLong: true };

/** @param {() => Promise<void>} addEvents @returns {Promise<[string[], string]>} the pages that were gone to, and the fault that is shown */
async function saved(addEvents) {
  const body = await page(MARKUP);
  /** @type {string[]} */
  const went = [];
  const go = (/** @type {string} */ hash) => void went.push(hash);
  const edges = { words: WORDS, store: { addEvents }, announce: () => undefined, go };
  const part = /** @type {HTMLElement} */ (body.querySelector("section"));
  const context = { absence: ABSENCE, events: [], today: "2026-02-21", putOffAway: () => undefined };
  draw(part, /** @type {any} */ (context), /** @type {any} */ (edges), new AbortController().signal);
  part.querySelector("form")?.dispatchEvent(new window.Event("submit", { bubbles: true, cancelable: true }));
  await new Promise((resolve) => setTimeout(resolve));
  return [went, part.querySelector("[data-fault]")?.textContent ?? ""];
}

test("what happened meanwhile leads to the warning signs once it is saved", async () => {
  assert.deepEqual(await saved(async () => undefined), [["#warnings"], ""]);
});

test("an answer that could not be saved stays on the page with the fault", async () => {
  assert.deepEqual(await saved(() => Promise.reject(new Error("full"))), [[], "day.not_saved"]);
});

test("what happened stays on the page until a session is done after it, and on its own day in any case", () => {
  const away = {
    id: "1",
    kind: "away_noted",
    on: "2026-02-21",
    body: { ...ABSENCE, what: "ill", happened: ["injection"] },
  };
  const body = {
    routine: 1,
    arms: { right: { worst: 1, sets: [] } },
    asked_steps: 1,
    done_steps: 1,
    active_seconds: 9,
  };
  const session = { id: "2", kind: "session_finished", on: "2026-02-22", body: { ...body, ended: "completed" } };
  const shown = (/** @type {any[]} */ events, /** @type {string} */ today) =>
    seen({ absence: null, events, today })?.happened ?? [];
  assert.deepEqual(shown([away], "2026-02-22"), ["injection"]);
  assert.deepEqual(shown([away, session], "2026-02-23"), []);
  assert.deepEqual(shown([away, { ...session, on: "2026-02-20" }], "2026-02-23"), ["injection"]);
  assert.deepEqual(shown([away, { ...session, on: "2026-02-21" }], "2026-02-21"), ["injection"]);
});
