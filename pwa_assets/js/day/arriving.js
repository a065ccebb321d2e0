/**
 * What the first session still waits for: the screening, or the practitioner's word about a sign that was ticked in it.
 */

import { fillSlots, find, piece } from "../parts/pieces.js";
import { isAnyStopped } from "../pure/arriving/start.js";

/** @param {import("./page.js").Context} context */
export function seen(context) {
  const { start, bundle, practitioner } = context;
  const { waitsFor, next, waiting } = start;
  if (waitsFor === "nothing") return null;
  // A hold is told by its own part of the page. The questions go on once no arm is held.
  if (waitsFor === "screening" && bundle && isAnyStopped(context)) return null;
  return {
    kind: kindOf(context),
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
export function draw(part, context, { words }) {
  const { bundle, practitioner } = context;
  const { waiting } = context.start;
  const kind = kindOf(context);
  const name = practitioner?.name;
  const title = name ? words.fill("start.waits", { name }) : words.say("start.waits_unnamed");
  const node = fillSlots(piece(kind), { title });
  if (kind === "start_waits") {
    const texts = waiting.map((sign) => bundle?.warnings.find(({ id }) => id === sign)?.text ?? sign);
    find(node, "[data-named]").append(...texts.map((text) => fillSlots(piece("screening_named"), { text })));
  }
  find(part, "[data-body]").replaceChildren(node);
}

/** @param {import("./page.js").Context} context @returns {string} the name of the piece that is shown */
function kindOf(context) {
  const { waitsFor, next, waiting } = context.start;
  // Without a routine there is no hold to be told by the page's own part.
  if (!context.bundle && next && isAnyStopped(context)) return "start_stopped";
  if (waitsFor === "intake") return "intake_first";
  if (waitsFor === "practitioner") return waiting.length ? "start_waits" : "intake_waits";
  return next === "emergency" ? "screening_first" : "screening_goes_on";
}
