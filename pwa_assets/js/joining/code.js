/**
 * A code that links another phone, or the icon on the home screen, to the same client.
 */

import { fillSlots, find, onAct, showFault } from "../parts/pieces.js";

/**
 * @param {HTMLElement} root holds the code's template
 * @param {import("../main.js").Edges} edges
 * @param {AbortSignal} signal
 */
export function wireCode(root, edges, signal) {
  onAct(root, "code", () => void showCode(root, edges), signal);
  onAct(root, "copy", () => void copy(root, edges), signal);
}

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 */
async function showCode(root, { server, clock, words, announce }) {
  const button = /** @type {HTMLButtonElement} */ (find(root, '[data-act="code"]'));
  button.disabled = true;
  const outcome = await server.code();
  button.disabled = false;
  find(root, "[data-fault]").hidden = true;
  if (outcome.kind !== "answer")
    return showFault(root, outcome.kind === "refused" ? outcome.message : words.say("home.silent"), button);
  const { code, seconds } = outcome.body;
  const until = words.fill("home.until", { time: words.time(clock.now() + seconds * 1000) });
  fillSlots(root, { code, until, code_act: words.say("home.another") });
  find(root, "[data-shown]").hidden = false;
  announce(`${code} ${until}`);
}

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 */
async function copy(root, { room, words, announce }) {
  const text = words.say(
    (await room.copy(find(root, '[data-slot="code"]').textContent ?? "")) ? "home.copied" : "home.by_hand",
  );
  fillSlots(root, { copied: text });
  announce(text);
}
