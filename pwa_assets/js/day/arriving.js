/**
 * What the first session still waits for: the screening, or the practitioner's word about a sign that was ticked in it.
 */

import { fillSlots, find, piece } from "../parts/pieces.js";
import { eventsOn } from "../pure/dose/daybook.js";

/** @param {import("./page.js").Context} context */
export function seen({ start, bundle, practitioner, days, events }) {
  const { waitsFor, next, waiting } = start;
  if (waitsFor === "nothing") return null;
  // A hold is told by its own part of the page. The questions go on once it is released.
  if (waitsFor === "screening" && days.length > 0 && days.every(({ isHeldNow }) => isHeldNow)) return null;
  return {
    kind: kindOf(start, bundle, events),
    waitsFor,
    isBegun: next !== "emergency",
    waiting,
    practitioner: practitioner?.name,
    bundle: bundle?.hash,
  };
}

/**
 * @param {HTMLElement} part
 * @param {import("./page.js").Context} context
 * @param {import("../main.js").Edges} edges
 */
export function draw(part, { start, bundle, practitioner, events }, { words }) {
  const { waiting } = start;
  const kind = kindOf(start, bundle, events);
  const title = words.fill("start.waits", { name: practitioner?.name ?? "" });
  const node = fillSlots(piece(kind), { title });
  if (kind === "start_waits") {
    const texts = waiting.map((sign) => bundle?.warnings.find(({ id }) => id === sign)?.text ?? sign);
    find(node, "[data-named]").append(...texts.map((text) => fillSlots(piece("screening_named"), { text })));
  }
  find(part, "[data-body]").replaceChildren(node);
}

/**
 * @param {import("./page.js").Context["start"]} start
 * @param {import("../wire.js").Bundle|null} bundle
 * @param {import("./page.js").Context["events"]} events
 * @returns {string} the name of the piece that is shown
 */
function kindOf({ waitsFor, next, waiting }, bundle, events) {
  // Without a routine there is no hold to be told by the page's own part.
  if (!bundle && next && eventsOn(events, "warning_raised", null).some(({ body }) => body.holds ?? true))
    return "start_stopped";
  if (waitsFor === "intake") return "intake_first";
  if (waitsFor === "practitioner") return waiting.length ? "start_waits" : "intake_waits";
  return next === "emergency" ? "screening_first" : "screening_goes_on";
}
