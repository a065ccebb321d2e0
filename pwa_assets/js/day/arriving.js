/**
 * What the first session still waits for: the screening, or the practitioner's word about a sign that was ticked in it.
 */

import { fillSlots, find, piece } from "../parts/pieces.js";

/** @param {import("./page.js").Context} context */
export function seen({ start, bundle, practitioner, days }) {
  const { waitsFor, next, waiting } = start;
  if (waitsFor === "nothing") return null;
  // A hold is told by its own part of the page. The questions go on once it is released.
  if (waitsFor === "screening" && days.length > 0 && days.every(({ isHeldNow }) => isHeldNow)) return null;
  return { waitsFor, isBegun: next !== "emergency", waiting, practitioner: practitioner?.name, bundle: bundle?.hash };
}

/**
 * @param {HTMLElement} part
 * @param {import("./page.js").Context} context
 * @param {import("../main.js").Edges} edges
 */
export function draw(part, { start, bundle, practitioner }, { words }) {
  const { waitsFor, next, waiting } = start;
  const isBegun = next !== "emergency";
  const kind = waitsFor === "practitioner" ? "start_waits" : isBegun ? "screening_goes_on" : "screening_first";
  const node = fillSlots(piece(kind), { title: null });
  if (kind === "start_waits") {
    fillSlots(node, { title: words.fill("start.waits", { name: practitioner?.name ?? "" }) });
    const texts = waiting.map((sign) => bundle?.warnings.find(({ id }) => id === sign)?.text ?? sign);
    find(node, "[data-named]").append(...texts.map((text) => fillSlots(piece("screening_named"), { text })));
  }
  find(part, "[data-body]").replaceChildren(node);
}
