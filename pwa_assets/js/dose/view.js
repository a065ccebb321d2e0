/**
 * Draws a dose: one picture for each set, whose arc shows how far to move; then the rest in words.
 */

import { createWristDrawing } from "../drawing/wrist_drawing.js";
import { afterPaint, fillSlots, find, piece } from "../parts/pieces.js";
import { drawnFor } from "../pure/drawing/drawn_movements.js";
import { marksOf } from "../pure/session/pacer.js";

const RANGES = new Map([
  [0.75, "three_quarters"],
  [0.5, "half"],
]);

/**
 * @param {import("../edges/screen/words.js").Words} words
 * @param {import("../wire.js").Bundle} bundle
 * @param {import("../pure/session/played_dose.js").PlayedDose} dose
 * @param {string} arm whose hand is drawn
 * @param {string|null} heading null where there is one arm only
 * @returns {DocumentFragment}
 */
export function drawDose(words, bundle, dose, arm, heading) {
  const node = fillSlots(piece("dose"), { arm: heading });
  find(node, ".sets").append(...dose.sets.map((set) => drawSet(words, bundle, set, arm)));
  find(node, ".sets").hidden = dose.sets.length === 0;
  for (const text of sentencesOf(words, dose)) {
    find(node, ".summary").append(fillSlots(piece("sentence"), { text }));
  }
  return node;
}

/**
 * @param {import("../edges/screen/words.js").Words} words
 * @param {import("../wire.js").Bundle} bundle
 * @param {import("../pure/session/played_dose.js").PlayedSet} set
 * @param {string} arm
 */
function drawSet(words, bundle, set, arm) {
  const { name, own } = bundle.movements[set.movement];
  const node = fillSlots(piece("set"), {
    reps: words.number(set.reps),
    load: set.load ?? words.say("play.no_load"),
    name,
  });
  find(node, "a").setAttribute("href", `#movement?of=${set.movement}`);
  const [drawn, picture] = [drawnFor(set.movement, own), find(node, ".set-picture")];
  // A slow phone draws long: the words can be read meanwhile.
  if (drawn) afterPaint(() => drawPicture(picture, drawn, set, arm));
  return node;
}

/**
 * @param {HTMLElement} picture
 * @param {import("../pure/drawing/drawn_movements.js").Drawn} drawn
 * @param {import("../pure/session/played_dose.js").PlayedSet} set
 * @param {string} arm
 */
function drawPicture(picture, drawn, set, arm) {
  const drawing = createWristDrawing(document);
  const { top } = marksOf(drawn, set.range);
  drawing.show({ drawn, arm, weighted: (set.load_kg ?? 0) > 0, range: set.range });
  drawing.turn({ bend: top, swing: 0, open: 0, mark: top, ahead: 0, time: null });
  picture.append(drawing.element);
}

/**
 * @param {import("../edges/screen/words.js").Words} words
 * @param {import("../pure/session/played_dose.js").PlayedDose} dose
 * @returns {string[]}
 */
function sentencesOf(words, dose) {
  if (dose.mode !== "training") return dose.summary;
  const stretches = dose.holds.length;
  const seconds = [...new Set(dose.holds.map((hold) => hold.seconds))];
  const sentences = [
    rangeOf(words, dose.sets[0]?.range ?? 1),
    dose.warm_ups.length ? words.say("dose.warm_up") : "",
    stretches ? words.plural("dose.stretches", stretches, { seconds: words.list(seconds.map(words.number)) }) : "",
  ];
  return sentences.filter(Boolean);
}

/**
 * @param {import("../edges/screen/words.js").Words} words
 * @param {number} range
 */
function rangeOf(words, range) {
  if (range === 1) return "";
  const name = RANGES.get(range);
  return name ? words.say(`range.${name}`) : words.fill("range.share", { percent: Math.round(range * 100) });
}
