/**
 * Turns balls in space into the paths of an ink drawing on paper. Pure.
 * The eye looks a little from above and from the front, so a point that is farther away is drawn higher and further to the right.
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

/** @param {number} x @param {number} y @returns {string} rounded to a tenth; every frame writes hundreds of these, and toFixed is slower */
const at = (x, y) => `${Math.round(x * 10) / 10} ${Math.round(y * 10) / 10}`;

/**
 * @param {Ball[]} balls
 * @returns {string} path data: the outline of the balls strung together
 */
export function chainPath(balls) {
  const spots = balls.map((ball) => onPaper(ball.at));
  let d = "";
  for (let i = 1; i < balls.length; i++) d += capsulePath(spots[i - 1], balls[i - 1].r, spots[i], balls[i].r);
  return d;
}

/** @param {Spot} from @param {number} a its radius @param {Spot} to @param {number} b its radius */
function capsulePath(from, a, to, b) {
  const [[x, y], [toX, toY]] = [from, to];
  const apart = Math.hypot(toX - x, toY - y);
  if (apart <= Math.abs(a - b) + 0.01) return a > b ? discPath(from, a) : discPath(to, b);
  const [along, down] = [(toX - x) / apart, (toY - y) / apart];
  // The straight sides are tangents of both discs.
  const lean = (a - b) / apart;
  const side = Math.sqrt(1 - lean * lean);
  const [lx, ly] = [along * lean + down * side, down * lean - along * side];
  const [rx, ry] = [along * lean - down * side, down * lean + along * side];
  const [far, near] = lean < 0 ? [1, 0] : [0, 1];
  return (
    `M${at(x + a * lx, y + a * ly)}L${at(toX + b * lx, toY + b * ly)}` +
    `A${b} ${b} 0 ${far} 1 ${at(toX + b * rx, toY + b * ry)}L${at(x + a * rx, y + a * ry)}` +
    `A${a} ${a} 0 ${near} 1 ${at(x + a * lx, y + a * ly)}Z`
  );
}

/** @param {Spot} center @param {number} r @returns {string} */
export function discPath([x, y], r) {
  return `M${at(x - r, y)}a${r} ${r} 0 1 1 ${2 * r} 0a${r} ${r} 0 1 1 ${-2 * r} 0Z`;
}

/** @param {Spot[]} spots @param {boolean} [closed] @returns {string} */
export function linePath(spots, closed = false) {
  return `M${spots.map(([x, y]) => at(x, y)).join("L")}${closed ? "Z" : ""}`;
}

/** A brush line, as wide as the balls on it. @param {Ball[]} balls @returns {string} */
export function brushPath(balls) {
  const spots = balls.map(({ at }) => onPaper(at));
  const back = spots.map(([x, y], i) => /** @type {Spot} */ ([x + balls[i].r, y + balls[i].r / 2]));
  return linePath([...spots, ...back.reverse()], true);
}

/**
 * @param {Spot[]} ring corners in order, all round
 * @param {Spot} push
 * @returns {string} the outline of the ring and of the same ring pushed away: a short cylinder
 */
export function cylinderPath(ring, [px, py]) {
  const edges = ring.map(([x, y], i) => {
    const [toX, toY] = ring[(i + 1) % ring.length];
    return [toX - x, toY - y];
  });
  const [[ax, ay], [bx, by]] = [edges[0], edges[1]];
  const round = Math.sign(ax * by - ay * bx);
  return linePath(
    ring.map(([x, y], i) => ((px * edges[i][1] - py * edges[i][0]) * round > 0 ? [x + px, y + py] : [x, y])),
    true,
  );
}
