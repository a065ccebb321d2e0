/**
 * The hand from its palm, open or closed, and from its back. Pure.
 *
 * @typedef {import("./ink.js").Stroke} Stroke
 * @typedef {import("./ink.js").Pose} Pose
 * @typedef {import("./limb.js").Joint} Joint
 * @typedef {import("./side_views.js").Held} Held
 * @typedef {{knuckle: [number, number], away: number, bones: number[], radii: number[], tip: number}} Finger
 *   away: degrees by which it is spread; tip: the y to which its tip leans in a fist
 * @typedef {<T>(change: (shut: number) => T) => T|((pose: Pose) => T)} Changing what depends on how far the fingers are closed
 */

import { layer, lead, line, sleeve, strokeOf } from "./ink.js";
import { between, discPath, joints, penPath, turn } from "./limb.js";
import { weightAcross } from "./weight.js";
import { FOREARM, sleeved, wristParts } from "./wrist.js";

/** @type {Finger[]} */
const FINGERS = [
  { knuckle: [88, -29], away: -11, bones: [45, 27, 21], radii: [11.5, 10.4, 9.8, 8.6], tip: -22 },
  { knuckle: [93, -9.5], away: -2, bones: [50, 31, 22], radii: [11.5, 10.8, 10.2, 8.8], tip: -6 },
  { knuckle: [90, 9.5], away: 7, bones: [46, 29, 22], radii: [11.2, 10.4, 9.8, 8.6], tip: 8 },
  { knuckle: [81, 27], away: 17, bones: [36, 22, 19], radii: [10.2, 9.2, 8.6, 7.6], tip: 21 },
];
/** Degrees by which a closed finger is bent at its knuckle and its two joints. */
const FOLDS = [82, 102, 48];
const THUMB = {
  open: joints("16 -14 18, 38 -36 16.5, 62 -62 12.2, 80 -82 10.6, 94 -98 8.6"),
  closed: joints("14 -13 17, 38 -27 17, 60 -37 12.8, 82 -37 11.2, 102 -28 9.6"),
};
const PALM = ["30 -8 28, 84 -27 13.5", "30 8 28, 76 24 15", "40 0 30, 90 -9 13", "40 0 30, 86 9 13"].map(joints);
const INTO_PALM = joints("4 0 28.5, 30 1 33, 56 0 37, 70 -1 36");
const THUMB_ROOT = joints("4 -4 19, 24 -14 18.6, 34 -24 15.8");
const THUMB_EDGE = joints("26 -37 5, 44 -43 7, 62 -44 6, 84 -43 5.5, 102 -34 4.5");
const CREASES = penPath("70 -31, 52 -16, 36 4, 24 26") + penPath("80 30, 70 14, 74 -4, 86 -16");
const HEEL = penPath("16 12, 26 24, 40 30, 54 31");
const THUMB_FOLD = penPath("24 14, 38 4, 48 -10");
/** From here on a closing hand is a fist. */
const FIST_FROM = 0.6;

/**
 * Return the joints of a finger as the eye sees them on the palm: what points at the eye is shortened.
 * @param {Finger} finger
 * @param {number} shut 0 to 1
 * @returns {Joint[]} from the knuckle to the tip
 */
function fingerAt({ knuckle: [x, y], away, bones, radii, tip }, shut) {
  const [c, s] = turn(away * (1 - shut));
  const full = 1 + 0.06 * shut;
  let [bent, gone] = [0, 0];
  const ends = bones.map((bone, i) => {
    bent += FOLDS[i] * shut;
    gone += bone * turn(bent)[0] * [1, 1 + 0.15 * shut, 1 - 0.25 * shut][i];
    const drawnIn = (tip - y) * shut * [0, 0.55, 0.95][i];
    return /** @type {Joint} */ ([x + gone * c + 6 * shut * shut, y + gone * s + drawnIn, radii[i + 1] * full]);
  });
  return [[x - 6 * c * (1 - shut), y - 6 * s * (1 - shut), radii[0] * full], ...ends];
}

/** @param {Joint[]} finger @returns {Joint[]} what lies on the palm of a closing finger */
function outer([, first, second, tip]) {
  const [middle] = between([first], [second], 1 / 3);
  return [first, [middle[0], middle[1], first[2] * 1.02], second, tip];
}

/**
 * @param {Finger} finger
 * @param {Changing} of
 * @returns {Stroke[]} the part of a finger that is in front of the palm
 */
const fingerOver = (finger, of) => [
  ...layer([{ limbs: of((shut) => [outer(fingerAt(finger, shut))]) }]),
  ...layer([{ limbs: of((shut) => seamless(fingerAt(finger, shut), shut)) }]).slice(1),
];

/** Skin over the middle joint of a finger, so that it is one with the palm for as long as it is open. @param {Joint[]} finger @param {number} shut @returns {Joint[][]} */
function seamless([knuckle, first, second], shut) {
  const open = Math.max(0, 1 - shut * 2.2);
  if (!open) return [];
  const ends = [...between([knuckle], [first], 0.5), ...between([first], [second], 0.5 * open)];
  return [ends.map(([x, y, r]) => [x, y, r * Math.min(1, 0.3 + 1.6 * open)])];
}

/**
 * The palm to the eye, thumb up.
 * @param {Pick<Held, "isStriped"|"grip"|"leads">} held
 * @param {number|((pose: Pose) => number)} [shut] 0 to 1, how far the fingers are closed; a function where they move
 * @returns {Stroke[]}
 */
export function palmSide({ isStriped, grip, leads }, shut = 1) {
  /** @type {Changing} */
  const of = (change) => (typeof shut === "function" ? (pose) => change(shut(pose)) : change(shut));
  const [palm, thumb] = [{ limbs: PALM }, of((part) => [between(THUMB.open, THUMB.closed, part)])];
  const roots = { limbs: of((part) => FINGERS.map((finger) => fingerAt(finger, part).slice(0, 2))) };
  const nails = (/** @type {number} */ part) => FINGERS.map((finger) => tipOf(fingerAt(finger, part))).join("");
  const inFist = (/** @type {number} */ part) => part > FIST_FROM;
  return [
    ...(grip === "weight" ? weightAcross(79, [-59, 55]) : []),
    ...layer([...wristParts(FOREARM.face, INTO_PALM), palm, roots]),
    line(
      "line",
      of((part) => (inFist(part) ? HEEL : CREASES)),
    ),
    ...[...FINGERS].reverse().flatMap((finger) => fingerOver(finger, of)),
    line(
      "nail",
      of((part) => (inFist(part) ? nails(part) : "")),
    ),
    ...sleeve(sleeved(FOREARM.face), isStriped),
    ...layer([{ limbs: thumb }]),
    ...(leads ? lead(THUMB_EDGE) : []),
    strokeOf("skin", { limbs: [THUMB_ROOT] }),
    line(
      "line",
      of((part) => (inFist(part) ? THUMB_FOLD : "")),
    ),
  ];
}

/** @param {Joint[]} finger */
const tipOf = ([, , , [x, y]]) => discPath([x, y], 4.6);

const KNUCKLES = joints("86 -28 12.6, 92 -9.5 13, 90 9.5 12.6, 81 26 11.4");
const THUMB_BEHIND = joints("14 -13 17, 40 -31 15.5, 62 -42 12.6, 84 -43 11.4, 101 -33 9.8");
const LITTLE_EDGE = joints("16 24 4, 50 30 6, 78 30 7.5, 92 27 6");

/** The back of the hand to the eye, the little finger up. @param {Pick<Held, "isStriped"|"grip"|"leads">} held @returns {Stroke[]} */
export function backSide({ isStriped, grip, leads }) {
  const over = (/** @type {Joint[]} */ limb) => limb.map(([x, y, r]) => /** @type {Joint} */ ([x, -y, r]));
  const hand = KNUCKLES.map(([x, y, r]) =>
    over([
      [40, y * 0.6, 24],
      [x - 4, y, r],
    ]),
  );
  const tendons = KNUCKLES.map(([x, y]) =>
    penPath(`${x - 14} ${-y * 0.95}, ${x - 30} ${-y * 0.8}, ${x - 44} ${-y * 0.62}`),
  );
  return [
    ...(grip === "weight" ? weightAcross(79, [-128, 46]) : []),
    ...layer([{ limbs: [over(THUMB_BEHIND)] }]),
    ...KNUCKLES.flatMap(([x, y, r]) =>
      layer([
        {
          limbs: [
            over([
              [x - 4, y, r - 1],
              [x + 15, y * 0.97, r - 1.2],
            ]),
          ],
        },
      ]),
    ),
    ...layer([
      ...wristParts(FOREARM.face, over(joints("4 0 28.5, 30 1 33, 54 0 36, 66 -1 35"))),
      { limbs: [...hand, over(joints("10 -8 20, 44 -26 14, 70 -31 10"))] },
    ]),
    ...(leads ? lead(over(LITTLE_EDGE)) : []),
    line("tendon", tendons.join("")),
    ...sleeve(sleeved(FOREARM.face), isStriped),
  ];
}
