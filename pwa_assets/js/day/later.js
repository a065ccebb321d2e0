/**
 * Later today: what else loads the arm. One press marks it, another press withdraws the mark.
 *
 * @typedef {import("../wire.js").ExposureBody["what"]} Exposure
 */

import { fillSlots, find, onAct, piece } from "../parts/pieces.js";
import { eventsOn } from "../pure/dose/daybook.js";

/** @param {import("./page.js").Context} context */
export function seen(context) {
  return context.bundle && { today: context.today, marks: noted(context).map(({ body }) => body) };
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
  for (const button of /** @type {NodeListOf<HTMLElement>} */ (node.querySelectorAll("[data-what]"))) {
    const exposure = /** @type {Exposure} */ (button.dataset.what);
    const mine = noted(context).filter((event) => event.body.what === exposure);
    button.setAttribute("aria-pressed", String(mine.length > 0));
    button.addEventListener("click", () => void toggle(edges, context.today, exposure, mine), { signal });
  }
  drawSport(node, context, edges, signal);
  find(part, "[data-body]").replaceChildren(node);
  if (focused) find(part, `[data-what="${focused}"]`).focus();
}

/**
 * Today's sport in words, the way to its page, and where it was planned, the press that says that it is done.
 * @param {DocumentFragment} node
 * @param {import("./page.js").Context} context
 * @param {import("../main.js").Edges} edges
 * @param {AbortSignal} signal
 */
function drawSport(node, context, { words, store }, signal) {
  const [sport] = noted(context).filter(({ body }) => body.what === "sport" && body.name);
  fillSlots(node, {
    playing: words.say(sport ? "later.change" : "later.playing"),
    sport: sport ? words.fill("later.sport", { what: sportText(words, sport.body) }) : null,
  });
  find(node, '[data-act="done"]').hidden = !sport?.body.planned;
  const end = () => {
    const body = { replaces: sport.id, body: { ...sport.body, planned: false } };
    return void store.addEvents({ kind: "entry_corrected", on: context.today, body });
  };
  onAct(node, "done", end, signal);
}

/** @param {import("../edges/screen/words.js").Words} words @param {import("../wire.js").ExposureBody} body */
function sportText(words, { name = "", minutes, begins, planned }) {
  const parts = [
    name,
    ...(minutes ? [words.plural("dose.minutes", minutes)] : []),
    ...(begins ? [words.fill("later.from", { time: begins })] : []),
    ...(planned ? [words.say("later.planned")] : []),
  ];
  return parts.join(" · ");
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
