/**
 * Strokes: the paths of a picture, the farthest first. Pure.
 * A layer is inked first and filled over the ink, so that its parts melt into one shape with one outline.
 *
 * @typedef {import("./limb.js").Joint} Joint
 * @typedef {Pick<import("../session/pacer.js").Turned, "bend"|"swing"|"open">} Pose
 * @typedef {"still"|"hand"|"help"} On what carries a stroke along: nothing, the drawn hand, the other hand
 * @typedef {{kind: string, on: On, d: string|((pose: Pose) => string)}} Stroke kind: its class; d: a function where its form changes
 * @typedef {{on?: On, limbs: Joint[][]|((pose: Pose) => Joint[][]), first?: number, last?: number}} Part
 *   first, last: the joints at which the curve of its first limb begins and ends
 */

import { bandPath, curve, lengthOf, limbPath, shifted } from "./limb.js";

/** Light falls from above: what it does not reach at the lower edge is shaded. */
const LIGHT = [-0.8, -2.2];
const [STRIPE, CUFF] = [12, 15];

/**
 * @param {Part[]} parts
 * @param {string} [fill] the class of its colour
 * @returns {Stroke[]}
 */
export function layer(parts, fill = "skin") {
  const kept = parts.map((part) => ({ ...part, limbs: once(part.limbs) }));
  const full = kept.map((part) => strokeOf("ink", part));
  const lit = kept.map((part) => strokeOf(fill, part, true));
  // In a pass the order is free: this one keeps together what moves together.
  return [...full, ...full.map((stroke) => ({ ...stroke, kind: `${fill}-shade` })).reverse(), ...lit];
}

/**
 * @template T
 * @param {T|((pose: Pose) => T)} drawn
 * @returns {T|((pose: Pose) => T)} the same, worked out once for each pose
 */
function once(drawn) {
  if (typeof drawn !== "function") return drawn;
  const work = /** @type {(pose: Pose) => T} */ (drawn);
  /** @type {[Pose, T]|null} */
  let last = null;
  return (pose) => {
    if (last?.[0] !== pose) last = [pose, work(pose)];
    return last[1];
  };
}

/** @param {string} kind @param {Part} part @param {boolean} [isLit] @returns {Stroke} */
export function strokeOf(kind, { on = "hand", limbs, first, last }, isLit = false) {
  const [dx, dy] = LIGHT;
  const light = (/** @type {Joint[]} */ limb) => (isLit ? shifted(limb, dx, dy, -Math.hypot(dx, dy)) : limb);
  const path = (/** @type {Joint[][]} */ all) =>
    all.map((limb, i) => (i ? limbPath(light(limb)) : limbPath(light(limb), first, last))).join("");
  return { kind, on, d: typeof limbs === "function" ? once((pose) => path(limbs(pose))) : path(limbs) };
}

/** @param {string} kind @param {string|((pose: Pose) => string)} d @param {On} [on] @returns {Stroke} */
export const line = (kind, d, on = "hand") => ({ kind, on, d });

/**
 * @param {Joint[]} limb the sleeved end of an arm, from far to the cuff
 * @param {boolean} isStriped the left sleeve
 * @param {On} [on]
 * @returns {Stroke[]}
 */
export function sleeve(limb, isStriped, on = "still") {
  const along = curve(limb.map(([x, y, r]) => /** @type {Joint} */ ([x, y, r + 5])));
  const end = lengthOf(along);
  const stripes = Array.from(
    { length: Math.floor((end - CUFF) / (2 * STRIPE)) },
    (_, i) => end - CUFF - STRIPE * (2 * i + 2),
  );
  const wider = along.map(([x, y, r]) => /** @type {Joint} */ ([x, y, r + 3.5]));
  return [
    line("sleeve-ink", bandPath(along, 0, end), on),
    line(isStriped ? "sleeve-left" : "sleeve-right", bandPath(along, 0, end), on),
    ...(isStriped ? [line("stripe", stripes.map((from) => bandPath(along, from, from + STRIPE)).join(""), on)] : []),
    line("cuff", bandPath(wider, end - CUFF, end), on),
  ];
}

/** @param {Joint[]} edge what leads a lift @returns {Stroke[]} dipped in colour, and edged, so that it is seen without colour too */
export const lead = (edge) => [strokeOf("lead-edge", { limbs: [edge] }), strokeOf("lead", { limbs: [edge] })];
