/**
 * One picture as a list of paths, the farthest first: thigh, forearm, hand, dumbbell, and the other hand in a stretch. Pure.
 * Everything that stays the same in a movement is computed once; each frame only moves it and writes the paths.
 *
 * @typedef {import("./hand_model.js").Point} Point
 * @typedef {import("./hand_model.js").Limb} Limb
 * @typedef {import("./hand_model.js").Place} Place
 * @typedef {import("./drawn_movements.js").Drawn} Drawn
 * @typedef {{kind: string, d: string}} Stroke kind: class of the ink: skin (inked all round), bare (skin with no ink), …
 * @typedef {Pick<import("../session/pacer.js").Turned, "bend"|"swing"|"open">} Turned
 * @typedef {{near: number, strokes: (move: Place) => Stroke[]}} Part
 */

import { ball, between, GRIP, handLimbs, limb, nails, palmLines, placedBy, turn } from "./hand_model.js";
import { brushPath, chainPath, cylinderPath, linePath, nearness, onPaper } from "./line_art.js";

const HEAD = { inner: 54, outer: 72, r: 20 };
const BAR_R = 8.5;
/** The corners of the polygon that stands for a round rim. */
const ROUND = Array.from({ length: 24 }, (_, i) => turn(i * 15));
/** The ink of a limb that is not drawn as skin with an outline, by its name. @type {Record<string, string>} */
const INKS = { skin: "bare", crease: "iron", sleeve: "cloth" };
/** The helping hand: by how many degrees its fingers point up, and which x of it lies on the middle of the other hand. */
const [SLANT, MIDDLE] = [14, 80];
/** @type {Point} */
const ELBOW = [-420, 20, -320];

/**
 * @param {Drawn} drawn
 * @param {boolean} weighted whether a dumbbell is in the hand
 * @returns {(turned: Turned) => Stroke[]}
 */
export function wristScene(drawn, weighted) {
  const still = placedBy({ roll: drawn.roll, bend: 0, swing: 0 });
  const arm = inked(...forearm(still, drawn.bent));
  const cloth = thigh();
  const other = drawn.way === "stretch" ? otherHand(drawn) : () => ({ behind: cloth, before: [] });
  const parts = partsOf(drawn, 0, weighted, still);
  return ({ bend, swing, open }) => {
    const move = placedBy({ roll: drawn.roll, bend, swing });
    const { behind, before } = other(bend);
    const now = drawn.way === "fingers" ? partsOf(drawn, open, weighted, still) : parts;
    return [...behind, arm, ...now.flatMap((part) => part.strokes(move)), ...before];
  };
}

/** @param {Drawn} drawn @param {number} open @param {boolean} weighted @param {Place} still @returns {Part[]} */
function partsOf({ way, roll, apart }, open, weighted, still) {
  const shut = { lift: weighted ? 1 : 1.28, circle: 0.72, stretch: 0.04, fingers: 1 - open }[way];
  const spread = { lift: 0, circle: 0, stretch: 0.15, fingers: open }[way];
  const hand = handLimbs({
    roll,
    bend: 0,
    swing: 0,
    curl: shut,
    thumb: Math.min(shut, 1),
    spread,
    raised: apart && !weighted,
  });
  const marks = way === "stretch" ? (roll > 90 ? palmLines : nails)(hand) : [];
  const parts = [...hand, ...marks].map((part) => partOf(part, still));
  if (way === "lift" && weighted) {
    const fingers = hand.flatMap(({ name }, i) => (name === "finger" ? [parts[i].near] : []));
    parts.push(...dumbbell(still, Math.min(...fingers) - 0.1));
  }
  parts.push({ near: wristDepth(still), strokes: (move) => [inked(...wristSkin(still, move))] });
  return parts.sort((a, b) => a.near - b.near);
}

/** @param {Limb} part @param {Place} still @returns {Part} */
const partOf = (part, still) => ({ near: depthOf(part, still), strokes: (move) => [inked(moved(part, move))] });

/** @param {Limb} part @param {Place} move @returns {Limb} */
const moved = (part, move) => ({ ...part, balls: part.balls.map(({ at, r }) => ball(move(at), r)) });

/**
 * Return how near a part is to the eye when the wrist is straight. The order stays the same in the whole movement, so that
 * nothing flickers.
 * @param {Limb} part @param {Place} still @returns {number}
 */
function depthOf(part, still) {
  if (part.over) return 0.2 + Math.max(...part.over.map((under) => depthOf(under, still)));
  const balls = part.name === "thumb" ? part.balls.slice(2) : part.balls;
  return balls.reduce((sum, { at }) => sum + nearness(still(at)), 0) / balls.length;
}

/** @param {Place} still @returns {number} just nearer than the bones of the palm */
const wristDepth = (still) => 2 + Math.max(...[-14, 14].map((side) => nearness(still([44, 0, side * 1.5]))));

/** @param {...Limb} limbs @returns {Stroke} one shape: its outline runs round all of them together */
const inked = (...limbs) => ({
  kind: INKS[limbs[0].name] ?? "skin",
  d: limbs.map(({ name, balls }) => (name === "crease" ? brushPath : chainPath)(balls)).join(""),
});

/** @param {Place} still @param {boolean} [bent] @returns {Limb[]} */
function forearm(still, bent) {
  const elbow = bent
    ? [ball([-136, 0, 0], 32)]
    : [ball([-520, 6, 0], 42), ball([-240, 4, 0], 36), ball([-130, 2, 0], 30)];
  const upper = bent ? [limb("arm", [ball([-136, 0, 0], 32), ball([-176, 420, -40], 44)])] : [];
  const sides = [-1, 1].map((side) =>
    limb("arm", [...elbow, ball(still([-58, 0, side * 9]), 20), ball(still([0, 0, side * 13]), 15.5)]),
  );
  return [...upper, ...sides];
}

/** @param {Place} still @param {Place} move @returns {Limb[]} */
function wristSkin(still, move) {
  return [-11, 11].map((side) =>
    limb(
      "skin",
      [ball(still([-22, 0, side]), 15.4), ball(move([0, 0, side]), 15.4), ball(move([26, 0, side]), 13)],
      [],
    ),
  );
}

/** @returns {Stroke[]} */
function thigh() {
  const lap = chainPath([ball([-520, -150, -10], 116), ball([-52, -72, 0], 44), ball([-34, -520, 0], 42)]);
  const d = lap + chainPath([ball([-420, -440, 0], 300), ball([-122, -200, 0], 92), ball([-122, -520, 0], 92)]);
  return [{ kind: "cloth", d }];
}

/** @param {Place} still @param {number} behind the nearness of a bar that lies inside the closed fingers @returns {Part[]} */
function dumbbell(still, behind) {
  const [x, y] = GRIP;
  const endOn = Math.abs(still([0, 0, 1])[2]) > 0.5;
  const bars = endOn
    ? [
        [-HEAD.inner, -30],
        [34, HEAD.inner],
      ]
    : [[-HEAD.inner, HEAD.inner]];
  const pieces = bars.map(([from, to]) => ({
    near: endOn ? nearness(still([x, y, (from + to) / 2])) : behind,
    strokes: (/** @type {Place} */ move) => [
      { kind: "iron", d: chainPath([ball(move([x, y, from]), BAR_R), ball(move([x, y, to]), BAR_R)]) },
    ],
  }));
  return [...pieces, ...[-1, 1].map((side) => head(side, still))];
}

/** @param {number} side @param {Place} still @returns {Part} */
function head(side, still) {
  const [x, y] = GRIP;
  const ends = [side * HEAD.inner, side * HEAD.outer].sort(
    (a, b) => nearness(still([x, y, b])) - nearness(still([x, y, a])),
  );
  /** @param {Place} move @param {number} r @returns {import("./line_art.js").Spot[]} */
  const ring = (move, r) => {
    const spot = (/** @type {number} */ dx, /** @type {number} */ dy) => onPaper(move([x + dx, y + dy, ends[0]]));
    const [[cx, cy], [ax, ay], [bx, by]] = [spot(0, 0), spot(r, 0), spot(0, r)];
    return ROUND.map(([c, s]) => [cx + (ax - cx) * c + (bx - cx) * s, cy + (ay - cy) * c + (by - cy) * s]);
  };
  return {
    near: nearness(still([x, y, (ends[0] + ends[1]) / 2])),
    strokes(move) {
      const push = onPaper(move([0, 0, ends[1] - ends[0]]));
      return [
        { kind: "iron", d: cylinderPath(ring(move, HEAD.r), push) },
        { kind: "rim", d: linePath(ring(move, HEAD.r - 3), true) },
      ];
    },
  };
}

/**
 * The helping hand. It comes from the far side, lies across the hand with its thumb behind, and pulls it towards the body.
 * @param {Drawn} drawn
 * @returns {(bend: number) => {behind: Stroke[], before: Stroke[]}}
 */
function otherHand(drawn) {
  const still = helping(drawn, -drawn.down);
  const parts = handLimbs({ roll: 0, bend: 0, swing: 0, curl: 0.5, thumb: 0, spread: 0 })
    .filter(({ name, over }) => name !== "thumb" && over?.[0].name !== "thumb")
    .map((part) => partOf(part, still))
    .sort((a, b) => a.near - b.near);
  return (bend) => {
    const move = helping(drawn, bend);
    const wrist = move([0, 0, 0]);
    const cuff = between(wrist, ELBOW, 0.12);
    const behind = [
      inked(limb("arm", [ball(cuff, 21), ball(wrist, 14.5)])),
      inked(limb("sleeve", [ball(ELBOW, 44), ball(cuff, 25)])),
    ];
    const skin = inked(limb("skin", [ball(wrist, 13), ball(move([20, 0, 0]), 13)]));
    return { behind, before: [...parts.flatMap((part) => part.strokes(move)), skin] };
  };
}

/**
 * Return where the helping hand is: on the upper side of the stretched hand, with its fingers over the near edge.
 * @param {Drawn} drawn @param {number} bend of the stretched wrist
 * @returns {Place}
 */
function helping({ held = 0, roll }, bend) {
  const move = placedBy({ roll: roll % 180, bend, swing: 0 });
  const [across, up] = turn(SLANT);
  return ([x, y, z]) => move([held + z * across - (x - MIDDLE) * up, 26 + y, (x - MIDDLE) * across + z * up]);
}
