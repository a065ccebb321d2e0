/**
 * Joining by a code, inside the app. The client types or pastes the code into one field.
 */

import { fillSlots, find, piece, showFault } from "../parts/pieces.js";
import { tidyCode } from "../pure/joining/join_code.js";

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @returns {() => void} stop
 */
export function start(root, edges) {
  const over = new AbortController();
  root.replaceChildren(fillSlots(piece("join", "screen"), { kept: null }));
  const form = /** @type {HTMLFormElement} */ (find(root, "form"));
  const submit = (/** @type {Event} */ event) => {
    event.preventDefault();
    void join(form, edges);
  };
  form.addEventListener("submit", submit, { signal: over.signal });
  void showKept(root, edges);
  return () => over.abort();
}

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 */
async function showKept(root, { store, words }) {
  const waiting = await store.unsent();
  if (waiting.length) fillSlots(root, { kept: words.plural("join.kept", waiting.length) });
}

/**
 * @param {HTMLFormElement} form
 * @param {import("../main.js").Edges} edges
 */
async function join(form, edges) {
  const { words, server, room } = edges;
  const field = /** @type {HTMLInputElement} */ (find(form, "input"));
  const button = /** @type {HTMLButtonElement} */ (find(form, "button"));
  const code = tidyCode(field.value);
  if (!code) return showFault(form, words.say("join.empty"), field);
  button.disabled = true;
  const outcome = await server.join(code, room.deviceName(), form.dataset.agreed ?? "");
  button.disabled = false;
  if (outcome.kind === "silent") return showFault(form, words.say("join.silent"), null);
  if (outcome.kind === "refused")
    return showFault(form, words.fill("join.refused", { message: outcome.message }), field);
  const isOwn = await edges.adopt(outcome.body);
  void edges.sync.now();
  if (!isOwn) return showFault(form, words.say("join.other"), null);
  if (outcome.body.locale !== document.documentElement.lang) return void edges.keeper.enter(outcome.body.locale);
  edges.announce(words.say("join.done"));
  edges.go("#day");
}
