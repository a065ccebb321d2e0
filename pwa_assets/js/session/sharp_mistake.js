/**
 * The button 'I pressed by mistake'. One tap and a confirmation undo a stop, until the client leaves its page or reports a warning
 * sign.
 */

import { find, onAct, showFault } from "../parts/pieces.js";

/**
 * @param {HTMLElement} root the page of the stop
 * @param {import("../main.js").Edges} edges
 * @param {import("../pure/session/run.js").Run} run as it was saved
 * @param {AbortSignal} signal
 */
export function offerTakingBack(root, { store, words, go }, run, signal) {
  const part = find(root, "[data-mistake]");
  const form = /** @type {HTMLFormElement} */ (find(root, "form"));
  const ask = (/** @type {boolean} */ isAsked) => {
    find(part, "[data-sure]").hidden = !isAsked;
    find(part, '[data-act="mistake"]').hidden = isAsked;
    part.scrollIntoView();
    find(part, isAsked ? "[data-asked]" : '[data-act="mistake"]').focus();
  };
  const takeBack = () =>
    store.takeBackStop(run).then(
      () => go("#day", "taken_back"),
      () => showFault(part, words.say("sharp.not_taken_back"), null),
    );
  part.hidden = false;
  onAct(part, "mistake", () => ask(true), signal);
  onAct(part, "sharp", () => ask(false), signal);
  onAct(part, "take_back", () => void takeBack(), signal);
  form.addEventListener("change", () => part.toggleAttribute("hidden", hasSign(form)), { signal });
}

/** @param {HTMLFormElement} form @returns {boolean} whether the client says that a warning sign is true, or may be */
const hasSign = (form) => new FormData(form).get("sign") === "yes";
