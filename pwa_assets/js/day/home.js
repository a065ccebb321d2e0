/**
 * The offer to put the app on the home screen. It is shown once there is a routine, until the app is there or the offer is put off.
 */

import { find, onAct, piece } from "../parts/pieces.js";

/** @param {import("./page.js").Context} context */
export function seen({ bundle, home }) {
  return bundle && home;
}

/**
 * @param {HTMLElement} part
 * @param {import("./page.js").Context} context
 * @param {import("../main.js").Edges} edges
 * @param {AbortSignal} signal
 */
export function draw(part, { home, putOffHome }, { room, go }, signal) {
  const node = piece("home_offer");
  onAct(node, "put", () => (home === "prompt" ? room.askForHome() : go("#home")), signal);
  onAct(node, "put_off", putOffHome, signal);
  find(part, "[data-body]").replaceChildren(node);
}
