/**
 * Draws the movements that a page of the desk shows as still pictures, and prints the page when asked. Without scripts the page
 * has all its words.
 *
 * @typedef {import("../js/pure/session/timeline.js").Step} Step
 * @typedef {import("../js/pure/session/timeline.js").Moment} Moment
 */

import { createWristDrawing } from "../js/drawing/wrist_drawing.js";
import { drawnFor } from "../js/pure/drawing/drawn_movements.js";
import { turnedAt } from "../js/pure/session/pacer.js";

/** Where a movement is shown: a lift half of the way up, a stretch as it is held. */
const AT = /** @type {Moment} */ ({
  phase: "up",
  fraction: 0.5,
  phaseMs: 2000,
  stepMs: 0,
  stepFraction: 0,
  secondsLeft: 1,
});
const HELD = /** @type {Moment} */ ({
  phase: "hold",
  fraction: 1,
  phaseMs: 40_000,
  stepMs: 40_000,
  stepFraction: 1,
  secondsLeft: 0,
});

for (const slot of /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll("[data-movement]"))) draw(slot);
for (const button of /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll("[data-print]"))) {
  button.hidden = false;
  button.addEventListener("click", () => print());
}

/** @param {HTMLElement} slot */
function draw(slot) {
  const { movement = "", arm = "right", range = "1", weighted } = slot.dataset;
  const drawn = drawnFor(movement);
  if (!drawn) return;
  const drawing = createWristDrawing(document);
  drawing.show({ drawn, arm, weighted: weighted !== undefined, range: Number(range) });
  const step = /** @type {Step} */ ({ range: Number(range) });
  drawing.turn(turnedAt(drawn, step, drawn.way === "stretch" ? HELD : AT));
  slot.append(drawing.element);
}
