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

/** Past this a typed number is a slip that the server will name. */
const MOST_DEGREES = 90;

for (const slot of /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll("[data-movement]"))) draw(slot);
for (const button of /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll("[data-print]"))) {
  button.hidden = false;
  button.addEventListener("click", () => print());
}

for (const slot of /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll("[data-follows]"))) follow(slot);

/** Draws a picture again when an end of its arc is typed. @param {HTMLElement} slot */
function follow(slot) {
  for (const [end, name] of /** @type {const} */ ([
    ["up", "arc_up"],
    ["down", "arc_down"],
  ])) {
    const field = /** @type {HTMLInputElement|null} */ (document.querySelector(`input[name="${name}"]`));
    field?.addEventListener("input", () => {
      const degrees = Number(field.value.replace(",", "."));
      if (!(degrees > 0 && degrees <= MOST_DEGREES)) return;
      slot.dataset[end] = String(degrees);
      slot.replaceChildren();
      draw(slot);
    });
  }
}

/** @param {HTMLElement} slot */
function draw(slot) {
  const { movement = "", arm = "right", range = "1", weighted, up, down } = slot.dataset;
  const own = { like: movement, ...(up && { up: Number(up) }), ...(down && { down: Number(down) }) };
  const drawn = drawnFor(movement, own);
  if (!drawn) return;
  const drawing = createWristDrawing(document);
  drawing.show({ drawn, arm, weighted: weighted !== undefined, range: Number(range) });
  const step = /** @type {Step} */ ({ range: Number(range) });
  drawing.turn(turnedAt(drawn, step, drawn.way === "stretch" ? HELD : AT));
  slot.append(drawing.element);
}
