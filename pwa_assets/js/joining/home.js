/**
 * Installing the app on the home screen: what to tap in this browser, and a code in case the installed app asks for one.
 */

import { fillSlots, find, onAct, piece, showFault } from "../parts/pieces.js";

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @returns {() => void} stop
 */
export function start(root, edges) {
  const over = new AbortController();
  const { room } = edges;
  root.replaceChildren(fillSlots(piece("home", "screen"), { host: location.host }));
  const redraw = () => {
    const way = room.homeWay();
    for (const part of root.querySelectorAll("[data-way]"))
      part.toggleAttribute("hidden", !(part.getAttribute("data-way") ?? "").split(" ").includes(way));
  };
  onAct(root, "put", room.askForHome, over.signal);
  onAct(root, "code", () => void showCode(root, edges), over.signal);
  onAct(root, "copy", () => void copy(root, edges), over.signal);
  const stop = room.onChange(redraw);
  redraw();
  return () => {
    over.abort();
    stop();
  };
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
