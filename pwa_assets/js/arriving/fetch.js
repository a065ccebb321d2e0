/**
 * What to have at hand before the first session: where to sit, what lies under the arm, and the weights of this session by name.
 */

import { fillSlots, find, piece } from "../parts/pieces.js";

/** @param {import("../pure/session/run.js").Plan|null} plan that Start plays @returns {string[]} the weights in it by name, each once */
export function weightsOf(plan) {
  const worked = (plan?.steps ?? []).filter(({ kind, arm }) => kind === "reps" && loadOf(plan, arm) > 0);
  return [...new Set(worked.flatMap(({ load }) => load || []))];
}

/** @param {import("../pure/session/run.js").Plan|null} plan @param {string} arm @returns {number} the heaviest load of an arm, kg */
function loadOf(plan, arm) {
  const sets = (plan?.arms ?? []).filter((each) => each.arm === arm).flatMap(({ dose }) => dose.sets);
  return Math.max(0, ...sets.map(({ load_kg }) => load_kg ?? 0));
}

/** @param {string[]} weights @param {import("../edges/screen/words.js").Words} words @returns {DocumentFragment} */
export function drawFetch(weights, words) {
  const node = piece("fetch");
  const texts = [
    words.say("fetch.seat"),
    words.say("fetch.towel"),
    ...(weights.length ? weights.map((weight) => words.fill("fetch.weight", { weight })) : [words.say("fetch.none")]),
  ];
  find(node, "[data-things]").append(...texts.map((text) => fillSlots(piece("screening_named"), { text })));
  return node;
}
