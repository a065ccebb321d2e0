/**
 * One picture as a list of paths, farthest first: thigh, forearm, hand, dumbbell, and the other hand in a stretch. Pure.
 *
 * @typedef {import("./hand_model.js").Point} Point
 * @typedef {import("./hand_model.js").Limb} Limb
 * @typedef {import("./drawn_movements.js").Drawn} Drawn
 * @typedef {{kind: string, d: string}} Stroke kind: class of the ink: outline, skin, cloth, iron, rim
 * @typedef {Pick<import("./pacer.js").Turned, "bend"|"swing"|"open">} Turned
 */

import { ball, GRIP, handLimbs, limb, placedBy } from "./hand_model.js";
import { bandPath, chainPath, linePath, nearness, onPaper } from "./line_art.js";

const HEAD = { inner: 50, outer: 69, r: 20 };
const BAR_R = 8.5;
const RIM_CORNERS = 28;

/**
 * @param {Drawn} drawn
 * @param {Turned} turned
 * @param {boolean} weighted whether a dumbbell is in the hand
 * @returns {Stroke[]}
 */
export function wristScene(drawn, turned, weighted) {
  const pose = poseOf(drawn, turned, weighted);
  const place = placedBy(pose);
  const still = placedBy({ ...pose, bend: 0, swing: 0 });
  const parts = [...handLimbs(pose), ...(weighted || drawn.way !== "lift" ? [] : [hollow()])].map((part) => ({
    near: depthOf(part, still),
    strokes: inked(moved(part, place)),
  }));
  if (weighted && drawn.way === "lift") parts.push(...dumbbell(place, still));
  parts.push({
    near: wristDepth(still),
    strokes: inked(...wristSkin(still, place)),
  });
  parts.sort((a, b) => a.near - b.near);
  const other = drawn.way === "stretch" ? otherHand(turned.bend, drawn.held ?? 58) : { behind: [], before: [] };
  return [
    ...(drawn.way === "stretch" ? [] : thigh()),
    ...other.behind,
    ...inked(...forearm(still, drawn.bent)),
    ...parts.flatMap((part) => part.strokes),
    ...other.before,
  ];
}

/** Skin behind everything, so that nothing shows through a closed hand with no bar in it. @returns {Limb} */
const hollow = () => limb("skin", [ball([72, -20, -20], 12), ball([68, -20, 20], 12)], []);

/** @param {Drawn} drawn @param {Turned} turned @param {boolean} weighted @returns {import("./hand_model.js").Pose} */
function poseOf({ way, roll }, { bend, swing, open }, weighted) {
  const shut = {
    lift: weighted ? 1 : 0.92,
    circle: 0.72,
    stretch: 0.04,
    fingers: 1 - open,
  }[way];
  const spread = { lift: 0, circle: 0, stretch: 0.15, fingers: open }[way];
  return {
    roll,
    bend,
    swing,
    curl: shut,
    thumb: way === "stretch" ? 0 : shut,
    spread,
  };
}

/** @param {Limb} part @param {import("./hand_model.js").Place} place @returns {Limb} */
const moved = (part, place) => ({
  ...part,
  balls: part.balls.map(({ at, r }) => ball(place(at), r)),
});

/**
 * How near a part lies with the wrist straight: one order for the whole movement, so nothing flickers.
 * @param {Limb} part @param {import("./hand_model.js").Place} still @returns {number}
 */
function depthOf(part, still) {
  if (part.over) return 0.2 + Math.max(...part.over.map((under) => depthOf(under, still)));
  const balls = part.name === "thumb" ? part.balls.slice(2) : part.balls;
  return balls.reduce((sum, { at }) => sum + nearness(still(at)), 0) / balls.length;
}

/** @param {import("./hand_model.js").Place} still @returns {number} just nearer than the bones of the palm */
const wristDepth = (still) => 0.4 + Math.max(...[-14, 14].map((side) => nearness(still([44, 0, side * 1.5]))));

/** @param {...Limb} limbs @returns {Stroke[]} one shape: all the ink first, then all the skin */
function inked(...limbs) {
  const d = limbs.map(({ balls }) => chainPath(balls)).join("");
  return limbs[0].over
    ? [{ kind: "skin", d }]
    : [
        { kind: "outline", d },
        { kind: "skin", d },
      ];
}

/** @param {import("./hand_model.js").Place} still @param {boolean} [bent] @returns {Limb[]} */
function forearm(still, bent) {
  const elbow = bent
    ? [ball([-92, 0, 0], 31)]
    : [ball([-520, 6, 0], 42), ball([-240, 4, 0], 36), ball([-130, 2, 0], 30)];
  const upper = bent ? [limb("arm", [ball([-92, 0, 0], 31), ball([-130, 420, -40], 44)])] : [];
  const sides = [-1, 1].map((side) =>
    limb("arm", [...elbow, ball(still([-58, 0, side * 9]), 20), ball(still([0, 0, side * 13]), 15.5)]),
  );
  return [...upper, ...sides];
}

/** @param {import("./hand_model.js").Place} still @param {import("./hand_model.js").Place} place @returns {Limb[]} */
function wristSkin(still, place) {
  return [-9, 9].map((side) =>
    limb("skin", [ball(still([-22, 0, side]), 15), ball(place([0, 0, side]), 15), ball(place([26, 0, side]), 13)], []),
  );
}

/** @returns {Stroke[]} */
function thigh() {
  const lap = chainPath([ball([-520, -150, -10], 116), ball([-52, -72, 0], 44), ball([-34, -520, 0], 42)]);
  const d = lap + chainPath([ball([-420, -440, 0], 300), ball([-122, -200, 0], 92), ball([-122, -520, 0], 92)]);
  return [
    { kind: "seam", d },
    { kind: "cloth", d },
  ];
}

/**
 * @param {import("./hand_model.js").Place} place @param {import("./hand_model.js").Place} still
 * @returns {{near: number, strokes: Stroke[]}[]}
 */
function dumbbell(place, still) {
  const [x, y] = GRIP;
  const endOn = Math.abs(still([0, 0, 1])[2]) > 0.5;
  const bars = endOn
    ? [
        [-HEAD.inner, -30],
        [34, HEAD.inner],
      ]
    : [[-HEAD.inner, HEAD.inner]];
  const pieces = bars.map(([from, to]) => ({
    near: nearness(still([x, y, (from + to) / 2])),
    strokes: [
      {
        kind: "iron",
        d: chainPath([ball(place([x, y, from]), BAR_R), ball(place([x, y, to]), BAR_R)]),
      },
    ],
  }));
  return [...pieces, ...[-1, 1].map((side) => head(side, place, still))];
}

/** @param {number} side @param {import("./hand_model.js").Place} place @param {import("./hand_model.js").Place} still */
function head(side, place, still) {
  const [x, y] = GRIP;
  const [a, b] = [side * HEAD.inner, side * HEAD.outer];
  const seen = nearness(still([x, y, a])) > nearness(still([x, y, b])) ? a : b;
  const ring = (/** @type {number} */ z, /** @type {number} */ r) =>
    Array.from({ length: RIM_CORNERS }, (_, i) => {
      const angle = (i / RIM_CORNERS) * 2 * Math.PI;
      return onPaper(place([x + r * Math.cos(angle), y + r * Math.sin(angle), z]));
    });
  return {
    near: nearness(still([x, y, (a + b) / 2])),
    strokes: [
      { kind: "iron", d: bandPath([...ring(a, HEAD.r), ...ring(b, HEAD.r)]) },
      { kind: "rim", d: linePath(ring(seen, HEAD.r - 3), true) },
    ],
  };
}

/**
 * The helping hand, laid on the far side of the hand and drawing it towards the body.
 * @param {number} bend degrees of the stretched wrist
 * @param {number} held how far from the wrist it lies
 */
function otherHand(bend, held) {
  const [c, s] = [Math.cos((bend * Math.PI) / 180), Math.sin((bend * Math.PI) / 180)];
  /** @type {import("./hand_model.js").Place} */
  const place = ([x, y, z]) => [held * c - s * (28 + y) + c * z, held * s + c * (28 + y) + s * z, x - 96];
  const pose = { roll: 0, bend: 0, swing: 0, curl: 0.2, thumb: 0.1, spread: 0 };
  const parts = handLimbs(pose)
    .map((part) => ({
      near: depthOf(part, place),
      strokes: inked(moved(part, place)),
    }))
    .sort((a, b) => a.near - b.near);
  const wrist = place([0, 0, 0]);
  const arm = limb("arm", [
    ball([-480, -560, -330], 46),
    ball([wrist[0] - 30, wrist[1] - 24, wrist[2] - 24], 22),
    ball(wrist, 19),
  ]);
  const skin = limb("skin", [ball([wrist[0] - 14, wrist[1] - 11, wrist[2] - 12], 17), ball(place([20, 0, 0]), 15)], []);
  return {
    behind: inked(arm),
    before: [...parts.flatMap((part) => part.strokes), ...inked(skin)],
  };
}
