/**
 * A hand as joints in space, in millimetres. Pure geometry: it knows no screen.
 * At rest the forearm lies along x, the palm faces down (y points up), and the little finger is nearest to the eye (z).
 *
 * @typedef {[number, number, number]} Point
 * @typedef {(point: Point) => Point} Place
 * @typedef {{at: Point, r: number}} Ball
 * @typedef {{name: string, balls: Ball[], over?: Limb[]}} Limb a chain of balls; over: the limbs that it covers
 * @typedef {{roll: number, bend: number, swing: number, curl: number, thumb: number, spread: number, raised?: boolean}} Pose
 *   degrees: roll of the forearm, bend and swing of the wrist; 0 to 1: curl of the fingers (1 a fist),
 *   thumb (1 wrapped round them), spread of the fingers; raised: the thumb stands off
 */

/** @type {{root: Point, knuckle: Point, bones: number[], r: number, fan: number}[]} */
const DIGITS = [
  {
    root: [8, 0, -14],
    knuckle: [84, 3, -29],
    bones: [43, 27, 21],
    r: 10.5,
    fan: -14,
  },
  {
    root: [10, 1, -5],
    knuckle: [88, 5, -10],
    bones: [47, 30, 22],
    r: 10.8,
    fan: -3,
  },
  {
    root: [10, 1, 5],
    knuckle: [83, 4, 10],
    bones: [44, 28, 22],
    r: 10.3,
    fan: 8,
  },
  {
    root: [8, 0, 14],
    knuckle: [75, 1, 28],
    bones: [35, 22, 19],
    r: 9,
    fan: 20,
  },
];
const FIST = [68, 98, 52];
const LOOSE = [6, 8, 5];
/** @type {Point[]} */
const THUMB_OUT = [
  [22, -6, -20],
  [50, -10, -44],
  [78, -10, -64],
  [101, -8, -76],
];
/** @type {Point[]} */
const THUMB_ROUND = [
  [22, -10, -20],
  [48, -28, -40],
  [71, -49, -40],
  [82, -58, -16],
];
/** @type {Point[]} */
const THUMB_RAISED = [
  [22, -8, -20],
  [46, -15, -44],
  [57, -16, -71],
  [65, -11, -94],
];
const THUMB_RADII = [14, 11.5, 10, 8.5];

/** The creases of the palm: round the ball of the thumb, and below the fingers. @type {Point[][]} */
const CREASES = [
  [
    [70, -10, -36],
    [58, -14, -14],
    [42, -14, -4],
    [22, -14, -3],
  ],
  [
    [54, -13, 26],
    [57, -13, 11],
    [63, -13, -2],
    [74, -12, -11],
  ],
];

/** Where the bar of a dumbbell passes through the closed hand. @type {Point} */
export const GRIP = [79, -25, 0];

/** @param {number} degrees @returns {[number, number]} cosine and sine */
export const turn = (degrees) => [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];

/** @param {Point} a @param {Point} b @param {number} part @returns {Point} */
export const between = ([ax, ay, az], [bx, by, bz], part) => [
  ax + (bx - ax) * part,
  ay + (by - ay) * part,
  az + (bz - az) * part,
];

/**
 * Return the function that moves the points of the resting hand into a pose.
 * @param {Pick<Pose, "roll"|"bend"|"swing">} pose
 * @returns {Place}
 */
export function placedBy({ roll, bend, swing }) {
  const [cr, sr] = turn(roll);
  const [cb, sb] = turn(bend);
  const [cs, ss] = turn(swing);
  return ([x, y, z]) => {
    const [up, near] = [y * cr - z * sr, y * sr + z * cr];
    const [along, side] = [x * cs - near * ss, x * ss + near * cs];
    return [along * cb - up * sb, along * sb + up * cb, side];
  };
}

/**
 * @param {Pose} pose
 * @returns {Limb[]} the parts of the hand at rest: bones of the palm, fingers, thumb and the skin that joins them
 */
export function handLimbs(pose) {
  const rays = DIGITS.map(({ root, knuckle, r }) => limb("ray", [ball(root, 14.5), ball(knuckle, r + 1)]));
  const fingers = DIGITS.map((digit) => limb("finger", fingerBalls(digit, pose)));
  const thumb = limb(
    "thumb",
    THUMB_OUT.map((out, i) =>
      ball(pose.raised ? THUMB_RAISED[i] : between(out, THUMB_ROUND[i], pose.thumb), THUMB_RADII[i]),
    ),
  );
  const back = rays.slice(1).map((ray, i) => backSkin(rays[i], ray));
  const knuckles = rays.map((ray, i) => knuckleSkin(ray, fingers[i]));
  const tips =
    pose.curl > 1 && turn(pose.roll)[1] < 0.5 ? fingers.flatMap((finger, i) => foldedTip(finger, knuckles[i])) : [];
  return [...rays, ...fingers, thumb, ...back, ...knuckles, ...tips, thumbSkin(thumb, rays)];
}

/** @param {Point} at @param {number} r @returns {Ball} */
export const ball = (at, r) => ({ at, r });

/** @param {string} name @param {Ball[]} balls @param {Limb[]} [over] @returns {Limb} */
export const limb = (name, balls, over) => ({ name, balls, over });

/** @param {typeof DIGITS[number]} digit @param {Pose} pose @returns {Ball[]} */
function fingerBalls({ knuckle, bones, r, fan }, { curl, spread }) {
  const [cf, sf] = turn(fan * spread);
  let [x, y, z] = knuckle;
  let angle = 0;
  const balls = [ball(knuckle, r)];
  bones.forEach((bone, i) => {
    angle -= LOOSE[i] * (1 - spread) + (FIST[i] - LOOSE[i]) * curl;
    const [c, s] = turn(angle);
    [x, y, z] = [x + bone * c * cf, y + bone * s, z + bone * c * sf];
    balls.push(ball([x, y, z], r - (i + 1) * 0.8));
  });
  return balls;
}

/** The lines of an open palm. @param {Limb[]} hand @returns {Limb[]} */
export const palmLines = (hand) =>
  CREASES.map((line) =>
    limb(
      "crease",
      line.map((at, i) => ball(at, i % 3 && 3.6)),
      hand.slice(0, 8),
    ),
  );

/** The nails of a stretched-out hand, on its back. @param {Limb[]} hand @returns {Limb[]} */
export function nails(hand) {
  return hand.slice(4, 8).map((finger) => {
    const [, , joint, tip] = finger.balls;
    const ends = [0.72, 1.05].map((part) => between(joint.at, tip.at, part));
    return limb(
      "nail",
      ends.map(([x, y, z]) => ball([x, y + tip.r * 0.7, z], 2.6)),
      [finger],
    );
  });
}

/** The end of a finger that lies on the closed fist. @param {Limb} finger @param {Limb} under */
function foldedTip(finger, under) {
  const [, middle, joint, end] = finger.balls;
  const tip = limb("tip", [joint, end], [under]);
  return [tip, limb("skin", [ball(between(middle.at, joint.at, 0.4), joint.r), joint], [tip])];
}

/** Skin over a knuckle, so that finger and hand look like one surface. @param {Limb} ray @param {Limb} finger */
function knuckleSkin(ray, finger) {
  const [root, knuckle] = ray.balls;
  const r = knuckle.r - 3.6;
  return limb(
    "skin",
    [
      ball(between(root.at, knuckle.at, 0.86), r),
      ball(knuckle.at, r),
      ball(between(knuckle.at, finger.balls[1].at, 0.3), r - 0.4),
    ],
    [ray, finger],
  );
}

/** Skin over two neighbouring bones, so that the back of the hand looks like one surface. @param {Limb[]} rays */
function backSkin(...rays) {
  const [[start, end], [back, stop]] = rays.map(({ balls: [root, knuckle] }) => [
    root,
    ball(between(root.at, knuckle.at, 0.8), knuckle.r + 0.7),
  ]);
  return limb("skin", [start, end, stop, back], rays);
}

/** Skin over the ball of the thumb. @param {Limb} thumb @param {Limb[]} rays */
function thumbSkin(thumb, rays) {
  const [root, joint] = thumb.balls;
  return limb(
    "skin",
    [ball([2, -1, -9], 14), ball([16, -3, -16], 13), ball(root.at, 12.6), ball(between(root.at, joint.at, 0.5), 10.6)],
    [thumb, ...rays],
  );
}
