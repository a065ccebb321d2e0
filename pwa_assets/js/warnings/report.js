/**
 * What a reported warning sign is in the log, and what is said of it: for the page of the warning signs and for the screening.
 *
 * @typedef {{id: string, level: string, is_whole: boolean, holds: boolean}} Sign
 */

import { find } from "../parts/pieces.js";

export const BOTH = ["right", "left"];

/** @param {Sign} sign @returns {boolean} */
function isOfOneArm({ is_whole, holds }) {
  return holds && !is_whole;
}

/**
 * Show one button for each arm if a ticked sign is about one arm and the routine has two arms; else show one plain button.
 * @param {ParentNode} form
 * @param {string[]} arms of the routine
 * @param {Sign[]} signs that are ticked
 */
export function drawSends(form, arms, signs) {
  const asksArm = arms.length > 1 && signs.some(isOfOneArm);
  find(form, "[data-by-arm]").hidden = !asksArm;
  find(form, "[data-plain]").hidden = asksArm;
}

/**
 * @param {Sign} sign
 * @param {string} how the value of the button that was pressed: an arm, "both" or ""
 * @param {string[]} all arms of the routine
 */
export function bodyOf(sign, how, all) {
  const arms = how === "both" ? BOTH : BOTH.includes(how) ? [how] : all;
  const body = { sign: sign.id, arms: isOfOneArm(sign) ? arms : BOTH };
  return sign.holds ? body : { ...body, holds: false };
}

/**
 * @param {string[]} all arms of the routine
 * @param {{arms: string[], holds?: boolean}[]} bodies of what was reported
 * @param {import("../edges/screen/words.js").Words} words
 * @returns {string} a sentence: the report is saved, and which arm stops
 */
export function heldText(all, bodies, words) {
  const held = bodies.flatMap(({ arms, holds = true }) => (holds ? arms : []));
  const [arm, other] = all.filter((each) => held.includes(each));
  if (!arm) return words.say("warnings.kept");
  if (other || all.length === 1) return words.say("warnings.stopped");
  return words.fill("warnings.stopped_arm", { arm: words.say(`arm.${arm}`) });
}
