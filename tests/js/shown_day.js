/**
 * Shows the day page of a phone that has just taken its first reply, on the shell that the server sent.
 */

import { createWords } from "../../pwa_assets/js/edges/screen/words.js";
import { createStore } from "../../pwa_assets/js/edges/storage/store.js";
import { emptyPhone, page } from "./browser.js";

const NUMBERS = [1, 2, 5, 22];
const nothing = () => undefined;
const listened = () => nothing;

/**
 * @param {string} shell the page that the server sent, as text
 * @param {any} reply the first reply
 * @param {string} on today
 */
export async function drawn(shell, reply, on) {
  await emptyPhone();
  await page("");
  const sent = new window.DOMParser().parseFromString(shell, "text/html");
  const { lang, dir } = sent.documentElement;
  document.documentElement.lang = lang;
  document.documentElement.dir = dir;
  document.body.innerHTML = sent.body.innerHTML;
  const clock = /** @type {any} */ ({
    now: () => Date.parse(`${on}T09:30:00Z`),
    today: () => on,
    zone: () => "UTC",
    every: listened,
  });
  const store = createStore(clock, nothing);
  await store.setMeta("client", reply.client);
  await store.takeReply(reply, on, clock.now());
  const words = createWords(document);
  const start = await startOf(/** @type {any} */ ({ ...edges(clock), store, words }));
  const plurals = Object.fromEntries(NUMBERS.map((n) => [n, words.plural("dose.minutes", n)]));
  return { lang, dir: document.documentElement.dir, start, plurals, number: words.number(12) };
}

/** @param {any} clock what the day page uses beside storage and words */
function edges(clock) {
  const quiet = { onChange: listened };
  return {
    clock,
    sync: { ...quiet, status: () => ({ phase: "idle", message: "" }) },
    keeper: { ...quiet, isKept: () => true, isNewerWaiting: () => false },
    room: { ...quiet, homeWay: () => "installed" },
    voice: { find: nothing },
    announce: nothing,
    go: nothing,
    takeEarly: () => null,
  };
}

/** @param {import("../../pwa_assets/js/main.js").Edges} edges @returns {Promise<string>} the text of the button that starts the session */
async function startOf(edges) {
  const { start } = await import("../../pwa_assets/js/day/page.js");
  const root = /** @type {HTMLElement} */ (document.getElementById("page"));
  const stop = start(root, edges);
  for (let turn = 0; turn < 1000 && !root.hasAttribute("data-drawn"); turn += 1)
    await new Promise((resolve) => setImmediate(resolve));
  stop();
  return root.querySelector('[data-act="start"]')?.textContent?.trim() ?? "";
}
