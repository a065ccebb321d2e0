/**
 * What bears the forearm, and what stands behind a hanging arm. Pure.
 *
 * @typedef {import("./ink.js").Stroke} Stroke
 */

import { layer, line } from "./ink.js";
import { boxPath, joints, penPath } from "./limb.js";

const still = "still";
const THIGH = joints("-760 112 96, -400 92 82, -280 78 72, -180 68 60, -104 64 51, -74 66 48");
const SHIN = joints("-74 66 48, -78 118 43, -90 200 42, -104 300 40, -112 420 32");
const FOLDS = ["-122 132, -106 116, -86 110, -68 112", "-120 146, -104 138, -90 138", "-36 52, -30 66, -32 84"];
const SEAM = "-760 140, -400 110, -280 96, -190 90, -140 88";
const TOWEL = joints("-150 50 15, -56 46.5 17");

/** @returns {Stroke[]} a table with a rolled towel on it, seen from its edge */
export function table() {
  const leg = boxPath([-136, 80], [-112, 700]);
  const top = boxPath([-900, 65], [-26, 87]);
  return [
    line("ink", leg, still),
    line("wood-leg", leg, still),
    line("ink", top, still),
    line("wood", top, still),
    ...layer([{ on: still, limbs: [TOWEL] }], "towel"),
    line("line", penPath("-72 38, -62 34, -50 38, -46 48, -53 56, -64 53, -64 45, -57 44"), still),
  ];
}

/** @returns {Stroke[]} a bent knee from its inner side */
export function thigh() {
  return [
    ...layer(
      [
        { on: still, limbs: [THIGH] },
        { on: still, limbs: [SHIN] },
      ],
      "cloth",
    ),
    line("line", FOLDS.map((fold) => penPath(fold)).join(""), still),
    line("seam", penPath(SEAM), still),
  ];
}

/** @returns {Stroke[]} the hip of one who stands, behind an arm that hangs: x runs down the leg */
export function leg() {
  const shirt = boxPath([-900, -120], [-116, 74]);
  return [
    ...layer([{ on: still, limbs: [joints("-900 -24 92, -120 -24 90, 120 -20 82, 700 -8 60")] }], "cloth"),
    line("seam", penPath("-92 -24, 120 -20, 700 -8"), still),
    line("line", penPath("-104 -84, -70 -64, -30 -80, -18 -112"), still),
    line("ink", shirt, still),
    line("wood-leg", shirt, still),
    line("line", penPath("-126 -120, -126 74"), still),
  ];
}
