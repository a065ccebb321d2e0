/**
 * Where the hand joins the forearm, and how the hand turns there. Pure.
 *
 * @typedef {import("./limb.js").Joint} Joint
 * @typedef {import("./ink.js").Part} Part
 * @typedef {import("./ink.js").Pose} Pose
 */

import { between, joints, turn, turned } from "./limb.js";

/** The forearm from its thumb side or its little-finger side, and from its palm or its back. */
export const FOREARM = {
  edge: joints("-760 24 62, -420 19 54, -330 16 50, -250 13 47, -170 8 42, -100 3 33, -48 0 25, -18 -1 21.5"),
  face: joints("-760 4 62, -420 4 56, -330 4 54, -250 2 53, -170 0 46, -100 0 37, -48 0 31, -18 0 28.5"),
};
/** Where the sleeve ends. */
const CUFF_AT = -112;
/** One millimetre nearer to the eye lands so far to the left and down. */
export const NEARER = [-0.46, 0.05];
/** From this bend on, skin bridges the inner side of the wrist. */
const [BRIDGE_FROM, BRIDGE_OVER] = [16, 24];

/**
 * @param {Pick<Pose, "bend"|"swing">} pose bend: degrees up; swing: degrees towards the eye
 * @returns {[number, number, number, number]} the matrix that moves the hand, as SVG writes it
 */
export function matrixOf({ bend, swing }) {
  const [c, s] = turn(-bend);
  const [along, nearer] = turn(swing);
  const [x, y] = [along + NEARER[0] * nearer, NEARER[1] * nearer];
  return [x * c - y * s, x * s + y * c, -s, c];
}

/** @param {Joint[]} limb of the hand @param {Pose} pose @returns {Joint[]} */
export function carried(limb, pose) {
  const [a, b, c, d] = matrixOf(pose);
  return limb.map(([x, y, r]) => [a * x + c * y, b * x + d * y, r]);
}

/**
 * @param {Joint[]} forearm its last three joints lead into the hand
 * @param {Joint[]} hand how the forearm's curve goes on in the hand
 * @returns {Part[]} the forearm, which lies still, and the skin that bends
 */
export function wristParts(forearm, hand) {
  const last = forearm.length - 2;
  return [
    { on: "still", limbs: [[...forearm, ...hand]], last },
    {
      on: "still",
      limbs: (pose) => [
        [...forearm.slice(last - 1, -1), ...bent([...forearm.slice(-1), ...hand], pose)],
        ...bridge(pose.bend),
      ],
      first: 1,
    },
  ];
}

/** The parts of the bend that the first joints of the hand take: skin gives way little by little. */
const GIVES = [0.25, 0.7];

/** @param {Joint[]} limb @param {Pose} pose @returns {Joint[]} */
const bent = (limb, pose) =>
  limb.flatMap((joint, i) =>
    carried([joint], { ...pose, bend: pose.bend * (GIVES[i] ?? 1), swing: i ? pose.swing : 0 }),
  );

/** @param {number} bend @returns {Joint[][]} the skin on the inner side of a wrist that is bent far */
function bridge(bend) {
  const part = Math.min(1, Math.max(0, (Math.abs(bend) - BRIDGE_FROM) / BRIDGE_OVER));
  if (!part) return [];
  const [[x, y]] = turned([[44, 0, 0]], -bend);
  const wide = 0.8 + 0.2 * part;
  return [
    [
      [-84, 2.5, 29.5 * wide],
      [x, y, 20 * wide],
    ],
  ];
}

/** @param {Joint[]} forearm @returns {Joint[]} the part of it in the sleeve */
export function sleeved(forearm) {
  const first = forearm.findIndex(([x]) => x >= CUFF_AT);
  const [[fromX], [toX]] = [forearm[first - 1], forearm[first]];
  return [
    ...forearm.slice(0, first),
    ...between([forearm[first - 1]], [forearm[first]], (CUFF_AT - fromX) / (toX - fromX)),
  ];
}
