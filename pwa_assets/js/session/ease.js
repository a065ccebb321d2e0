/**
 * The question 'What would be easier?': first the form, with two lines of advice; then a smaller range, less weight, fewer reps,
 * or leaving the movement out. Each takes one tap.
 *
 * @typedef {import("../pure/session/easing.js").Easing} Easing
 */

import { fillSlots, find } from "../parts/pieces.js";
import { easings, workFrom } from "../pure/session/easing.js";

const CUES = 2;

/**
 * An easing counts only for the arm that works now, or that works next.
 * @param {HTMLElement} page the session, paused
 * @param {import("../edges/screen/words.js").Words} words
 * @param {import("../wire.js").Bundle} bundle
 * @param {import("../pure/session/run.js").Plan} plan
 * @param {number} index of the current step
 */
export function askEase(page, words, bundle, plan, index) {
  const part = find(page, '[data-part="ease"]');
  const open = easings(bundle, plan, index);
  const { movement, arm = "both" } = plan.steps[workFrom(plan.steps, index)] ?? {};
  fillSlots(part, { rest: words.fill("ease.rest", { arm: words.say(`arm.${arm}`) }) });
  const { leave_out: leaveOut = null, mistakes = [], own } = bundle.movements[movement ?? ""] ?? {};
  const cautions = [...(leaveOut ? [leaveOut] : []), ...(own?.cautions ?? [])];
  const cues = [...cautions, ...mistakes].slice(0, Math.max(CUES, cautions.length));
  find(part, "[data-cues]").replaceChildren(...cues.map(line));
  for (const button of /** @type {NodeListOf<HTMLElement>} */ (part.querySelectorAll("[data-ease]"))) {
    button.hidden = !open.includes(/** @type {Easing} */ (button.dataset.ease));
  }
}

/** @param {string} text */
function line(text) {
  const item = document.createElement("li");
  item.textContent = text;
  return item;
}

/**
 * @param {HTMLElement} page
 * @param {(easing: Easing) => void} ease called inside the tap
 * @param {AbortSignal} signal
 */
export function hearEase(page, ease, signal) {
  for (const button of /** @type {NodeListOf<HTMLElement>} */ (page.querySelectorAll("[data-ease]"))) {
    button.addEventListener("click", () => ease(/** @type {Easing} */ (button.dataset.ease)), { signal });
  }
}
