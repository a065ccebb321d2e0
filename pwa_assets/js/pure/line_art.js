/**
 * From balls in space to the path of an ink drawing on paper: pure.
 * The eye looks a little from above and from the front, so what is farther away lies higher and further on.
 *
 * @typedef {import("./hand_model.js").Point} Point
 * @typedef {import("./hand_model.js").Ball} Ball
 * @typedef {[number, number]} Spot
 */

const ACROSS = 0.42;
const DOWN = 0.34;

/** @param {Point} point @returns {Spot} on paper, y downwards */
export const onPaper = ([x, y, z]) => [x - ACROSS * z, DOWN * z - y];

/** @param {Point} point @returns {number} larger is nearer to the eye */
export const nearness = ([x, y, z]) => x * ACROSS + y * DOWN + z;

/** @param {number} n */
const short = (n) => n.toFixed(1);

/** @param {Spot} center @param {number} r @param {number} angle */
const rim = ([x, y], r, angle) => `${short(x + r * Math.cos(angle))} ${short(y + r * Math.sin(angle))}`;

/**
 * @param {Ball[]} balls
 * @returns {string} path data: the outline of the balls strung together
 */
export function chainPath(balls) {
  return balls
    .slice(1)
    .map((ball, i) => capsulePath(balls[i], ball))
    .join("");
}

/** @param {Ball} a @param {Ball} b */
function capsulePath(a, b) {
  const [from, to] = [onPaper(a.at), onPaper(b.at)];
  const apart = Math.hypot(to[0] - from[0], to[1] - from[1]);
  if (apart <= Math.abs(a.r - b.r) + 0.01) return a.r > b.r ? discPath(from, a.r) : discPath(to, b.r);
  const along = Math.atan2(to[1] - from[1], to[0] - from[0]);
  const open = Math.acos((a.r - b.r) / apart);
  const wide = open > Math.PI / 2;
  return (
    `M${rim(from, a.r, along - open)}L${rim(to, b.r, along - open)}` +
    `A${b.r} ${b.r} 0 ${wide ? 1 : 0} 1 ${rim(to, b.r, along + open)}L${rim(from, a.r, along + open)}` +
    `A${a.r} ${a.r} 0 ${wide ? 0 : 1} 1 ${rim(from, a.r, along - open)}Z`
  );
}

/** @param {Spot} center @param {number} r @returns {string} */
export function discPath([x, y], r) {
  return `M${short(x - r)} ${short(y)}a${r} ${r} 0 1 1 ${2 * r} 0a${r} ${r} 0 1 1 ${-2 * r} 0Z`;
}

/** @param {Spot[]} spots @param {boolean} [closed] @returns {string} */
export function linePath(spots, closed = false) {
  return `M${spots.map((spot) => spot.map(short).join(" ")).join("L")}${closed ? "Z" : ""}`;
}

/** @param {Spot[]} spots @returns {string} the outline of a band stretched round them */
export function bandPath(spots) {
  const sorted = [...spots].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  return linePath([...halfBand(sorted), ...halfBand(sorted.reverse())], true);
}

/** @param {Spot[]} spots */
function halfBand(spots) {
  /** @type {Spot[]} */
  const kept = [];
  for (const spot of spots) {
    while (kept.length > 1 && !turnsOut(kept[kept.length - 2], kept[kept.length - 1], spot)) kept.pop();
    kept.push(spot);
  }
  return kept.slice(0, -1);
}

/** @param {Spot} a @param {Spot} b @param {Spot} c */
const turnsOut = (a, b, c) => (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]) > 0;
