/**
 * The whole arm in a stretch, and the other arm, which pulls. Pure.
 *
 * @typedef {import("./ink.js").Stroke} Stroke
 * @typedef {import("./limb.js").Joint} Joint
 * @typedef {{isStriped: boolean, isPalmUp: boolean, elbow: number, down: number, held: number}} Stretched
 *   elbow: degrees by which it is bent; down: of the wrist, where the pull ends; held: from the wrist to the middle of the other hand
 */

import { layer, line, sleeve, strokeOf } from "./ink.js";
import { flipped, joints, penPath, shifted, turned } from "./limb.js";
import { wristParts } from "./wrist.js";

const FOREARM = joints("-268 18 41, -240 15 43, -205 11 43, -160 8 40, -100 3 33, -48 0 25, -18 -1 21.5");
const UPPER_ARM = joints("-900 -14 78, -640 2 70, -480 8 61, -350 14 51, -308 16.5 45");
/** @type {[number, number]} */
const ELBOW = [-268, 18];
const SLEEVE_JOINTS = 4;
const INTO_HAND = joints("2 -1 21, 30 -3 20, 60 -5 17");
const FOREFINGER = joints("60 -5 18, 88 -6 16, 118 -4 12.8, 146 0 11.6, 168 5 9.8");
const MIDDLE_FINGER = joints("60 -8 15, 92 -11 13, 124 -10 11.8, 154 -6 10.8, 178 -1 9.4");
/** Two more fingers, the farthest first: along the hand and towards its upper side. */
const BEYOND = [
  [-14, -15],
  [3, -8],
];
const HEEL = joints("8 3 17, 36 9 17, 56 12 13");
const THUMB = joints("14 7 14, 38 20 13.5, 62 30 11.4, 88 34 8.8");
const THUMB_ROOT = joints("2 2 16, 24 8 15.2, 34 13 13.2");
/** Palm up it stands off on the far side. */
const FAR_THUMB = joints("10 10 15, 34 36 14, 52 58 12.4, 66 78 10");

/** The other arm, from where its palm lies: back of the hand to the eye, its fingers over the edge of the hand that it pulls. */
const OTHER = {
  arm: joints(
    "-900 560 66, -700 432 62, -560 336 58, -440 254 52, -340 188 46, -250 132 38, -180 92 31, -130 66 27, -98 54 26",
  ),
  palm: joints("-72 38 27, -42 24 31, -14 8 33"),
  knuckles: joints("-20 -26 12.6, 3 -19 12.6, 13 1 12.6, 15 20 11.1"),
  tips: joints("7 -46 10.8, 25 -30 10.8, 34 -11 10.8, 34 12 9.4"),
  thumb: joints("-66 44 16, -60 14 14, -56 -6 11.8, -50 -24 10.2, -42 -38 8.8"),
  root: joints("-78 48 18, -64 28 16, -58 12 12.8"),
};
const OTHER_SLEEVE = 5;

/** @param {Stretched} stretched @returns {Stroke[]} */
export function stretchedArm(stretched) {
  const { isStriped, isPalmUp, elbow, down, held } = stretched;
  const over = isPalmUp ? flipped : (/** @type {Joint[]} */ limb) => limb;
  const upper = bentAt(UPPER_ARM, elbow);
  const thumb = layer([{ limbs: [over(isPalmUp ? FAR_THUMB : THUMB)] }]);
  return [
    ...(isPalmUp ? thumb : []),
    ...BEYOND.flatMap(([dx, dy]) => layer([{ limbs: [shifted(over(MIDDLE_FINGER), dx, isPalmUp ? dy - 2 : dy)] }])),
    ...layer([...wristParts([...upper, ...FOREARM], over(INTO_HAND)), { limbs: [over(FOREFINGER), over(HEEL)] }]),
    line("line", elbowLine(stretched), "still"),
    ...sleeve(upper.slice(0, SLEEVE_JOINTS), isStriped),
    ...(isPalmUp ? [] : [...thumb, strokeOf("skin", { limbs: [THUMB_ROOT] })]),
    ...otherArm(isStriped, held, down),
  ];
}

/** @param {Joint[]} limb @param {number} degrees @returns {Joint[]} turned round the elbow */
const bentAt = (limb, degrees) => shifted(turned(shifted(limb, -ELBOW[0], -ELBOW[1]), degrees), ...ELBOW);

/** The bony point of the elbow, below, where the palm faces down; its crease, above, where it faces up. @param {Stretched} stretched */
const elbowLine = ({ isPalmUp, elbow }) =>
  isPalmUp
    ? penPath("-274 -20, -264 -8, -266 8", (limb) => bentAt(limb, elbow / 2))
    : penPath("-290 46, -274 36, -258 44", (limb) => bentAt(limb, elbow / 2));

/** @param {boolean} isStriped of the stretched arm @param {number} held @param {number} down @returns {Stroke[]} at the end of the pull */
function otherArm(isStriped, held, down) {
  const [[x, y]] = turned([[held, 0, 0]], down);
  const put = (/** @type {Joint[]} */ limb) => shifted(limb, x, y);
  const { arm, palm, knuckles, tips, thumb, root } = OTHER;
  const fingers = knuckles.map((knuckle, i) => put([[-34, 12 + (i - 1.5) * 9, 16], knuckle, tips[i]]));
  const gaps = knuckles.slice(1).map((below, i) => {
    const [[ax, ay], [bx, by], [cx, cy], [dx, dy]] = [knuckles[i], below, tips[i], tips[i + 1]];
    return penPath(`${(ax + bx) / 2 + 2} ${(ay + by) / 2}, ${(cx + dx) / 2 + 5} ${(cy + dy) / 2}`, put);
  });
  return [
    ...layer([{ on: "help", limbs: [put([...arm, ...palm]), ...fingers] }], "other"),
    line("line", gaps.join(""), "help"),
    ...sleeve(put(arm.slice(0, OTHER_SLEEVE)), !isStriped, "help"),
    ...layer([{ on: "help", limbs: [put(thumb)] }], "other"),
    { ...strokeOf("other", { limbs: [put(root)] }), on: "help" },
  ];
}
