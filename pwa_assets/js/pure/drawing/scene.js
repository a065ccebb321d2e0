/**
 * One picture as a list of strokes, the farthest first. Pure.
 *
 * @typedef {import("./ink.js").Stroke} Stroke
 * @typedef {import("./ink.js").Pose} Pose
 * @typedef {import("./drawn_movements.js").Drawn} Drawn
 * @typedef {{behind: Stroke[], before: Stroke[]}} Scene what stands behind the half turn, and the arms before it
 */

import { backSide, palmSide } from "./face_views.js";
import { turned } from "./limb.js";
import { littleSide, thumbSide } from "./side_views.js";
import { stretchedArm } from "./stretch_views.js";
import { leg, table, thigh } from "./supports.js";

const SUPPORTS = { table, thigh, leg };
const VIEWS = { thumb: thumbSide, little: littleSide, palm: palmSide, back: backSide };

/**
 * @param {Drawn} drawn
 * @param {boolean} isStriped the left arm
 * @param {boolean} weighted whether a weight is in the hand
 * @returns {Scene}
 */
export function sceneOf(drawn, isStriped, weighted) {
  const { way, side, roll, down, elbow = 0, held = 0 } = drawn;
  const behind = drawn.bears ? SUPPORTS[drawn.bears]() : [];
  if (way === "stretch")
    return { behind, before: stretchedArm({ isStriped, isPalmUp: side === "little", elbow, down, held }) };
  const hand = { isStriped, roll, grip: gripOf(way, weighted), leads: way === "lift" };
  const before = way === "fingers" ? palmSide(hand, ({ open }) => 1 - open) : VIEWS[side](hand);
  return { behind, before };
}

/** @param {Drawn["way"]} way @param {boolean} weighted @returns {"weight"|"fist"|"loose"} */
const gripOf = (way, weighted) => (way === "circle" ? "loose" : weighted && way === "lift" ? "weight" : "fist");

/**
 * Return how far the other hand has moved from where it is at the end of the pull: it stays on the hand that it pulls.
 * @param {Drawn} drawn @param {number} bend @returns {[number, number]}
 */
export function pullLeft({ held = 0, down }, bend) {
  const [[x, y], [endX, endY]] = [-bend, down].map((degrees) => turned([[held, 0, 0]], degrees)[0]);
  return [x - endX, y - endY];
}
