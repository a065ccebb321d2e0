/**
 * The phone's language: the pages and the routine of another one are fetched first; then the app opens in it.
 */

import { fillSlots, find, onAct } from "../parts/pieces.js";

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @param {AbortSignal} signal
 */
export function wireLanguage(root, edges, signal) {
  const part = /** @type {HTMLElement|null} */ (root.querySelector("[data-language]"));
  if (!part) return;
  const choice = /** @type {HTMLSelectElement} */ (find(part, "select"));
  const button = /** @type {HTMLButtonElement} */ (find(part, "button"));
  choice.value = document.documentElement.lang;
  const change = async () => {
    button.disabled = true;
    const fault = await changeTo(choice.value, edges, (text) => fillSlots(part, { language: text }));
    button.disabled = false;
    fillSlots(part, { language: fault });
  };
  onAct(part, "change_language", () => void change(), signal);
}

/**
 * @param {string} locale
 * @param {import("../main.js").Edges} edges
 * @param {(text: string) => void} tell
 * @returns {Promise<string|null>} why nothing was changed
 */
async function changeTo(locale, { words, keeper, store, sync }, tell) {
  if (locale === document.documentElement.lang) return words.say("language.same");
  // A session that was left keeps the sentences that it began with.
  if (await store.loadRun()) return words.say("language.in_session");
  tell(words.say("language.fetching"));
  const isHere = (await keeper.hold(locale)) && (!(await store.getMeta("client")) || (await sync.inLanguage(locale)));
  if (!isHere) return words.say("language.not_fetched");
  await keeper.enter(locale);
  return null;
}
