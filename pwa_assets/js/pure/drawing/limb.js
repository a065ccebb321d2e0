/**
 * The one shape of the drawn arm: a limb, that is a curve through joints, swept by a circle. Pure.
 * Units are millimetres of a middling hand. x runs from the elbow to the fingers, y runs down the page, the wrist is at 0 0.
 *
 * @typedef {[number, number, number]} Joint x, y and radius
 * @typedef {[number, number]} Spot x and y
 */

/** Parts of a curve between two joints: enough for the eye, few enough for a slow phone. A pen line has no second side to hide a corner. */
const [PARTS, PEN_PARTS] = [2, 5];

/**
 * @param {string} text joints as "x y r, x y r"
 * @returns {Joint[]}
 */
export const joints = (text) =>
  text.split(",").map((joint) => /** @type {Joint} */ (joint.trim().split(" ").map(Number)));

/** @param {number} number @returns {number} to a tenth of a millimetre */
const tenth = (number) => Math.round(number * 10) / 10;

/** @param {Spot|Joint} spot */
const at = ([x, y]) => `${tenth(x)} ${tenth(y)}`;

/** @param {number} degrees @returns {[number, number]} cosine and sine */
export const turn = (degrees) => [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];

/** @param {Joint[]} limb @param {number} degrees clockwise on the page, round the wrist @returns {Joint[]} */
export function turned(limb, degrees) {
  const [c, s] = turn(degrees);
  return limb.map(([x, y, r]) => [x * c - y * s, x * s + y * c, r]);
}

/** @param {Joint[]} limb @param {number} dx @param {number} dy @param {number} [more] added to each radius @returns {Joint[]} */
export const shifted = (limb, dx, dy, more = 0) => limb.map(([x, y, r]) => [x + dx, y + dy, Math.max(r + more, 0.5)]);

/** @param {Joint[]} limb @returns {Joint[]} the limb as seen from the other side: a palm that faced down faces up */
export const flipped = (limb) => limb.map(([x, y, r]) => [x, -y, r]);

/** @param {Joint[]} from @param {Joint[]} to @param {number} part 0 to 1 @returns {Joint[]} */
export const between = (from, to, part) =>
  from.map((joint, i) => /** @type {Joint} */ (joint.map((value, axis) => value + (to[i][axis] - value) * part)));

/** @param {Joint[]} limb @param {number} [parts] between two joints @returns {Joint[]} more joints on the same curve (Catmull-Rom) */
export function curve(limb, parts = PARTS) {
  /** @type {Joint[]} */
  const along = [];
  for (let i = 0; i < limb.length - 1; i++) {
    const four = [limb[i - 1] ?? limb[i], limb[i], limb[i + 1], limb[i + 2] ?? limb[i + 1]];
    for (let k = 0; k < parts; k++) along.push(onCurve(four, k / parts));
  }
  return [...along, limb[limb.length - 1]];
}

/** @param {Joint[]} four @param {number} t from the second to the third of them @returns {Joint} */
function onCurve([a, b, c, d], t) {
  const value = (/** @type {number} */ i) =>
    0.5 *
    (2 * b[i] +
      (c[i] - a[i]) * t +
      (2 * a[i] - 5 * b[i] + 4 * c[i] - d[i]) * t * t +
      (3 * b[i] - a[i] - 3 * c[i] + d[i]) * t * t * t);
  return [value(0), value(1), value(2)];
}

/**
 * Return the outline of a limb: both sides, and a disc at each end. Where they overlap, the limb is filled all the same.
 * @param {Joint[]} limb
 * @param {number} [first] the joint at which it begins; the joints before it only lead it
 * @param {number} [last] the joint at which it ends
 * @returns {string}
 */
export function limbPath(limb, first = 0, last = limb.length - 1) {
  const along = curve(limb);
  const [left, right] = /** @type {[Spot[], Spot[]]} */ ([[], []]);
  for (let i = first * PARTS; i <= last * PARTS; i++) {
    const [[ax, ay], [x, y, r], [bx, by]] = [along[i - 1] ?? along[i], along[i], along[i + 1] ?? along[i]];
    const length = Math.hypot(bx - ax, by - ay) || 1;
    const [dx, dy] = [((by - ay) / length) * r, ((bx - ax) / length) * r];
    left.push([x + dx, y - dy]);
    right.unshift([x - dx, y + dy]);
  }
  return `M${smooth(left)}L${smooth(right)}Z${endPath(limb[first])}${endPath(limb[last])}`;
}

/** @param {(Spot|Joint)[]} spots @returns {string} a soft line beside them, from the first to the last */
function smooth(spots) {
  let d = at(spots[0]);
  for (let i = 1; i < spots.length - 1; i++) {
    const [[x, y], [toX, toY]] = [spots[i], spots[i + 1]];
    d += `Q${at([x, y])} ${at([(x + toX) / 2, (y + toY) / 2])}`;
  }
  return `${d}L${at(spots[spots.length - 1])}`;
}

/** @param {Joint} joint @returns {string} */
const endPath = ([x, y, r]) => discPath([x, y], tenth(r));

/** @param {Spot} center @param {number} r @returns {string} */
export const discPath = ([x, y], r) => `M${at([x - r, y])}a${r} ${r} 0 1 1 ${2 * r} 0a${r} ${r} 0 1 1 ${-2 * r} 0Z`;

/** @param {(Spot|Joint)[]} spots @param {boolean} [closed] @returns {string} */
export const linePath = (spots, closed = false) => `M${spots.map(at).join("L")}${closed ? "Z" : ""}`;

/** @param {Spot} corner @param {Spot} opposite @returns {string} a rectangle */
export const boxPath = ([x, y], [toX, toY]) =>
  linePath(
    [
      [x, y],
      [toX, y],
      [toX, toY],
      [x, toY],
    ],
    true,
  );

/** @param {string} text spots as "x y, x y" @param {(limb: Joint[]) => Joint[]} [put] moves it @returns {string} a bent pen line */
export function penPath(text, put = (limb) => limb) {
  const limb = put(joints(text).map(([x, y]) => [x, y, 0]));
  return `M${smooth(curve(limb, PEN_PARTS))}`;
}

/**
 * Return the outline of a part of a limb, cut straight across: a sleeve, or a stripe on it.
 * @param {Joint[]} along a curve
 * @param {number} from the distance of its start from the start of the curve
 * @param {number} to the distance of its end
 * @returns {string}
 */
export function bandPath(along, from, to) {
  const [left, right] = /** @type {[Spot[], Spot[]]} */ ([[], []]);
  let gone = 0;
  for (let i = 1; i < along.length; i++) {
    const [[x, y, a], [toX, toY, b]] = [along[i - 1], along[i]];
    const length = Math.hypot(toX - x, toY - y);
    const [ux, uy] = [(toX - x) / length, (toY - y) / length];
    const ends = [Math.max(from, gone), Math.min(to, gone + length)];
    for (const cut of ends[0] < ends[1] ? ends : []) {
      const part = (cut - gone) / length;
      const [cx, cy, r] = [x + (toX - x) * part, y + (toY - y) * part, a + (b - a) * part];
      left.push([cx + uy * r, cy - ux * r]);
      right.unshift([cx - uy * r, cy + ux * r]);
    }
    gone += length;
  }
  return linePath([...left, ...right], true);
}

/** @param {Joint[]} along a curve @returns {number} its length */
export const lengthOf = (along) =>
  along.slice(1).reduce((sum, [x, y], i) => sum + Math.hypot(x - along[i][0], y - along[i][1]), 0);
