/**
 * The hand from its edges: palm down it shows its thumb side, palm up its little-finger side. Pure.
 *
 * @typedef {import("./ink.js").Stroke} Stroke
 * @typedef {import("./limb.js").Joint} Joint
 */

import { layer, lead, line, sleeve, strokeOf } from "./ink.js";
import { discPath, flipped, joints, penPath, turn } from "./limb.js";
import { weightEnd } from "./weight.js";
import { FOREARM, NEARER, sleeved, wristParts } from "./wrist.js";

/**
 * @typedef {{isStriped: boolean, roll: number, grip: "weight"|"fist"|"loose", leads: boolean}} Held
 *   roll: degrees of the forearm from palm down; leads: the side that leads is marked
 */

const RAY = joints("8 -3 18, 38 -8 17.5");
/** The forefinger from its knuckle to its tip. @type {Record<Held["grip"], Joint[]>} */
const FINGER = {
  weight: joints("66 -10 15.8, 80 -7 14.6, 88 7 12.8, 89 28 12.2, 78 43 11.4, 58 45 10.6"),
  fist: joints("62 -13 16.4, 77 -12 15.2, 87 4 13.4, 87 28 12.8, 74 41 12, 54 40 11.4"),
  loose: joints("62 -12 16, 84 -10 14, 102 2 12.8, 113 22 11.8, 112 42 10.4"),
};
/** @type {Record<Held["grip"], Joint[]>} */
const THUMB = {
  weight: joints("12 8 15, 34 19 15.5, 54 31 13, 72 38 11.6, 91 37 9.8"),
  fist: joints("10 8 15.5, 32 21 16.5, 54 27 13.4, 74 20 12, 90 6 10.2"),
  loose: joints("10 8 15.5, 32 20 16, 54 30 13, 74 37 11.2, 92 42 9.6"),
};
/** Ring, middle and forefinger or little, ring and middle finger, the farthest first: how far away, and how long. */
const BEYOND = {
  weight: [
    [78, 4, 0.82],
    [56, -1, 0.95],
    [29, -3, 1.03],
  ],
  fist: [
    [102, 5, 0.8],
    [72, -1, 0.94],
    [37, -4, 1.03],
  ],
  loose: [
    [88, 4, 0.84],
    [62, -1, 0.95],
    [32, -3, 1.02],
  ],
  palmUp: [
    [60, -1, 0.97],
    [41, -3, 1.03],
    [20, -2, 0.97],
  ],
};
/** The edge that leads: the back of the fist palm down, the fingers palm up. */
const BACK = joints("22 -22 2.5, 40 -22 5, 62 -23.5 6, 78 -20 7.5, 90 -7 7.5, 94 4 5.5");
const FINGERTIPS = joints("50 46.5 5, 64 45.5 5.5, 75 38 6, 81.5 27 6, 83 12 5");
const ROOT = joints("0 2 17, 22 9 17, 33 15 14.4");
/** @type {[number, number]} */
const GRIP = [70, 17];

/** @param {Joint[]} finger @param {number[]} depth @param {number} [lean] @returns {Joint[]} the same finger farther from the eye */
function beyond(finger, [far, dy, long], lean = 0) {
  return finger.map(([x, y, r], i) => {
    const away = far * (i ? 1 : 0.8);
    return [x - NEARER[0] * away, y * long + dy - lean * away, r * long];
  });
}

/** @param {Held} held @returns {Stroke[]} palm down, thumb side to the eye */
export function thumbSide({ isStriped, grip, leads }) {
  const finger = FINGER[grip];
  const hand = [[...RAY, ...finger], joints("8 4 17.5, 40 10 19, 66 15 18")];
  const own = wristParts(FOREARM.edge, joints("2 -1 21.2, 30 -4 20.5, 56 -7 18.5"));
  const isHeld = grip === "weight";
  const [nx, ny] = isHeld ? [90, 34.5] : grip === "fist" ? [88, 7] : [91, 40];
  return [
    ...(isHeld ? weightEnd(GRIP, -84, 29, 18) : []),
    ...BEYOND[grip].flatMap((depth) => layer([{ limbs: [[...RAY, ...beyond(finger, depth)]] }])),
    ...layer([...own, { limbs: hand }]),
    ...(leads ? lead(BACK) : []),
    ...sleeve(sleeved(FOREARM.edge), isStriped),
    ...layer([{ limbs: [THUMB[grip]] }]),
    strokeOf("skin", { limbs: [ROOT] }),
    line("nail", discPath([nx, ny], 4.6)),
    ...(isHeld ? weightEnd(GRIP, 52, 27, 20) : []),
  ];
}

/** Drawn palm down, and turned over: the little finger to the eye. */
const LITTLE = joints("60 -8 15, 71 -4 13, 77 9 11, 77 27 10.4, 68 40 9.8, 52 42 9");
const HEEL = joints("6 5 17.5, 28 14 18, 48 20 16.5");
const FAR_THUMB = joints("6 8 15, 22 24 13.5, 38 38 12, 56 46 10.6, 72 44 9.4");
const FOLDED = "66 24, 58 28, 46 26, 38 31";

/** @param {Held} held @returns {Stroke[]} palm up, little finger to the eye; the thumb's side is the higher one, as far as a forearm turns */
export function littleSide({ isStriped, grip, leads, roll }) {
  const isHeld = grip === "weight";
  const [, lean] = turn(180 - roll);
  const own = wristParts(FOREARM.edge, flipped(joints("2 -1 21.2, 28 -4 20.5, 50 -7 18")));
  const far = BEYOND.palmUp.map((depth) => flipped([...RAY, ...beyond(FINGER.weight, depth, -lean)]));
  const [gx, gy] = [68, -17];
  return [
    ...(isHeld ? weightEnd([gx, gy - 84 * lean], -86, 29, 18) : []),
    ...layer([{ limbs: [flipped(beyond(FAR_THUMB, [58, 0, 1], -lean))] }]),
    ...far.flatMap((finger) => layer([{ limbs: [finger] }])),
    ...layer([...own, { limbs: [flipped([...RAY, ...LITTLE]), flipped(HEEL)] }]),
    ...(leads ? lead(flipped(FINGERTIPS)) : []),
    line("line", penPath(FOLDED, flipped)),
    ...sleeve(sleeved(FOREARM.edge), isStriped),
    ...(isHeld ? weightEnd([gx, gy + 50 * lean], 50, 27, 20) : []),
  ];
}
