/**
 * Later today: what else loads the arm. One press marks it, another press withdraws the mark.
 *
 * @typedef {import("../wire.js").ExposureBody["what"]} Exposure
 */

import { find, piece } from "../parts/pieces.js";
import { eventsOn } from "../pure/dose/daybook.js";

/** @param {import("./page.js").Context} context */
export function seen(context) {
  return context.bundle && { today: context.today, marks: noted(context).map((event) => event.body.what) };
}

/**
 * @param {HTMLElement} part
 * @param {import("./page.js").Context} context
 * @param {import("../main.js").Edges} edges
 * @param {AbortSignal} signal
 */
export function draw(part, context, edges, signal) {
  const focused = document.activeElement?.getAttribute("data-what");
  const node = piece("later");
  for (const button of node.querySelectorAll("button")) {
    const exposure = /** @type {Exposure} */ (button.dataset.what);
    const mine = noted(context).filter((event) => event.body.what === exposure);
    button.setAttribute("aria-pressed", String(mine.length > 0));
    button.addEventListener("click", () => void toggle(edges, context.today, exposure, mine), { signal });
  }
  find(part, "[data-body]").replaceChildren(node);
  if (focused) find(part, `[data-what="${focused}"]`).focus();
}

/** @param {import("./page.js").Context} context */
function noted(context) {
  return eventsOn(context.events, "exposure_noted", context.today);
}

/**
 * @param {import("../main.js").Edges} edges
 * @param {string} on
 * @param {Exposure} exposure
 * @param {{id: string}[]} mine
 */
async function toggle({ store }, on, exposure, mine) {
  if (mine.length === 0) return store.addEvents({ kind: "exposure_noted", on, body: { what: exposure } });
  return store.addEvents(
    ...mine.map(({ id }) => ({
      kind: /** @type {const} */ ("entry_corrected"),
      on,
      body: { replaces: id, body: null },
    })),
  );
}
