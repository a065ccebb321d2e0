/**
 * Installing the app on the home screen: what to tap in this browser, and a code in case the installed app asks for one.
 */

import { fillSlots, onAct, piece } from "../parts/pieces.js";
import { wireCode } from "./code.js";

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
  wireCode(root, edges, over.signal);
  const stop = room.onChange(redraw);
  redraw();
  return () => {
    over.abort();
    stop();
  };
}
