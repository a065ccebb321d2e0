/**
 * Every choice of this phone in one place: its language, its look, and how its sessions sound and last. Each takes effect at once.
 */

import { fillSlots, find, piece } from "../parts/pieces.js";
import { waysFrom } from "../pure/session/ways.js";
import { checkSound } from "../session/ready.js";
import { SessionSpeaker } from "../session/speaker.js";
import { drawWays } from "../session/ways.js";
import { wireLanguage } from "./language.js";

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @returns {() => void} stop
 */
export function start(root, edges) {
  const over = new AbortController();
  root.replaceChildren(piece("settings", "screen"));
  wireLanguage(root, edges, over.signal);
  wireLook(root, edges, over.signal);
  wireNaming(root, edges, over.signal);
  void drawSession(root, edges, over.signal);
  return () => over.abort();
}

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @param {AbortSignal} signal
 */
function wireLook(root, { look: edge, words }, signal) {
  const part = find(root, "[data-look]");
  const radios = /** @type {NodeListOf<HTMLInputElement>} */ (part.querySelectorAll("input"));
  /** @type {Record<string, string>} */
  const look = { ...edge.chosen() };
  for (const radio of radios) radio.checked = look[radio.name] === radio.value;
  const choose = (/** @type {Event} */ { target }) => {
    const { name, value } = /** @type {HTMLInputElement} */ (target);
    look[name] = value;
    const isKept = edge.choose(/** @type {any} */ (look));
    fillSlots(part, { unkept: isKept ? null : words.say("settings.unkept") });
  };
  part.addEventListener("change", choose, { signal });
}

/**
 * What weights and arms are called on this phone.
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @param {AbortSignal} signal
 */
function wireNaming(root, { naming: edge, words }, signal) {
  const part = find(root, "[data-naming]");
  const inputs = /** @type {NodeListOf<HTMLInputElement>} */ (part.querySelectorAll("input"));
  /** @type {Record<string, string>} */
  const naming = { ...edge.chosen() };
  for (const input of inputs)
    if (input.type === "radio") input.checked = naming[input.name] === input.value;
    else input.value = naming[input.name];
  const choose = (/** @type {Event} */ { target }) => {
    const { name, value } = /** @type {HTMLInputElement} */ (target);
    naming[name] = value;
    const isKept = edge.choose(/** @type {any} */ (naming));
    fillSlots(part, { unkept: isKept ? null : words.say("settings.unkept") });
  };
  part.addEventListener("change", choose, { signal });
}

/**
 * The same choices as before a session, but those that are made for one session. A session that is open keeps what it began with.
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @param {AbortSignal} signal
 */
async function drawSession(root, edges, signal) {
  const { snapshot, meta } = await edges.store.page();
  if (signal.aborted) return;
  const ways = waysFrom(meta.ways, snapshot.today, {});
  const speaker = new SessionSpeaker(edges, ways);
  const timing = snapshot.bundle?.timing ?? {};
  const choose = (/** @type {import("../pure/session/ways.js").Ways} */ chosen) => {
    speaker.ways = { ...chosen, on: snapshot.today };
    speaker.tune();
    void edges.store.setMeta("ways", speaker.ways);
  };
  edges.voice.find();
  drawWays(find(root, "[data-ways]"), edges, { ways, offered: {}, timing, isBegun: false }, choose, signal);
  checkSound(root, edges, speaker, false, signal);
  signal.addEventListener("abort", () => edges.voice.hush());
}
