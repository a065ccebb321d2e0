/**
 * The stop of an arm: which arm, why, and what to do. It stands above every question of the day page.
 */

import { drawWho } from "../letters/who.js";
import { fillSlots, find, piece } from "../parts/pieces.js";

/** @typedef {import("../pure/dose/today.js").ArmDay} ArmDay */

/** The reasons that begin a hold. Every later day of it has the reason 'held'. */
const BEGINNINGS = ["stop", "rest-to-hold"];

/** @param {import("./page.js").Context} context */
export function seen({ bundle, days, practitioner }) {
  const held = days.filter(({ isHeldNow }) => isHeldNow);
  if (!bundle || held.length === 0) return null;
  return { bundle: bundle.hash, held: held.map((day) => [day.arm, reasonOf(day)]), isAll: isAll(days), practitioner };
}

/**
 * @param {HTMLElement} part
 * @param {import("./page.js").Context} context
 * @param {import("../main.js").Edges} edges
 */
export function draw(part, { bundle, days, practitioner }, { words }) {
  const held = days.filter(({ isHeldNow }) => isHeldNow);
  const [first] = held;
  const whole = () => fillSlots(piece("session_held"), { why: bundle.why[reasonOf(first)] });
  find(part, "[data-body]").replaceChildren(
    ...(isAll(days) ? [whole()] : held.map((day) => drawArm(day, bundle, words))),
    ...drawWho(words, practitioner),
  );
}

/** @param {ArmDay} day @param {import("../wire.js").Bundle} bundle @param {import("../edges/screen/words.js").Words} words */
function drawArm(day, bundle, words) {
  const arm = words.fill("session.held_arm", { arm: words.say(`arm.${day.arm}`) });
  return fillSlots(piece("session_held_arm"), { arm, why: bundle.why[reasonOf(day)] });
}

/** @param {ArmDay[]} days */
const isAll = (days) => days.every(({ isHeldNow }) => isHeldNow);

/** @param {ArmDay} day of a held arm @returns {string} the id of the rule behind the hold; 'held' where this day does not know it */
function reasonOf({ dose, why }) {
  if (dose.mode !== "held") return "stop";
  return why.find((rule) => BEGINNINGS.includes(rule)) ?? "held";
}
