/**
 * Later today: what else loads the arm. One press marks it, another press withdraws the mark.
 *
 * @typedef {import("../wire.js").ExposureBody["what"]} Exposure
 */

import { fillSlots, find, onAct, piece } from "../parts/pieces.js";
import { eventsOn } from "../pure/dose/daybook.js";
import { asksAbout, isUnrated } from "../pure/returning/outing.js";
import { standOn, wayOf } from "../pure/returning/way.js";

/** @param {import("./page.js").Context} context */
export function seen(context) {
  return (
    context.bundle && { today: context.today, marks: noted(context).map(({ body }) => body), way: wayToday(context) }
  );
}

/**
 * What the way back says of today; null where none is open.
 * @param {import("./page.js").Context} context
 */
function wayToday({ bundle, anchors, days, events, today }) {
  const way = bundle && wayOf(anchors, today);
  const standing = way && standOn(bundle, way, days, events, today);
  if (!bundle || !way || !standing) return null;
  const { name, steps } = bundle.way.ladders[way.ladder];
  const { noted: mine } = asksAbout(events, today);
  const state = mine ? (isUnrated(mine) ? "unrated" : "done") : standing.isAllowed ? "yes" : "no";
  return { state, name, step: standing.step, minutes: steps[standing.step - 1].minutes };
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
  const way = wayToday(context);
  find(node, "[data-way]").hidden = way === null;
  if (way) fillSlots(node, { way: edges.words.fill(`later.way_${way.state}`, way) });
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

/** Other loads of today; sport on the way back has its own line. @param {import("./page.js").Context} context */
function noted(context) {
  return eventsOn(context.events, "exposure_noted", context.today).filter(({ body }) => body.step === undefined);
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
