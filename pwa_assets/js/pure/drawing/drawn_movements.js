/**
 * The numbers that make each movement's picture; scene.js draws them.
 * Degrees are from a straight wrist, up is positive. `up` and `down` are the full range of a wrist whose hand holds something; the day's
 * range is a part of it. `roll` is the turn of the forearm from palm down (0) over thumb up (90) to palm up.
 * `bears`: what the forearm lies on, or the leg of one who stands, whose arm hangs. `first`: 1 where a circle starts towards the eye.
 * `elbow`: degrees by which it is bent in a stretch; `held`: millimetres from the wrist to the middle of the other hand.
 * `frame` is the view of a left arm: x, y, width, height in millimetres, 0 0 the wrist.
 *
 * @typedef {"lift"|"fingers"|"circle"|"stretch"} Way
 * @typedef {"thumb"|"little"|"palm"|"back"} Side which side of the hand is seen
 * @typedef {{way: Way, side: Side, roll: number, up: number, down: number, bears?: "table"|"thigh"|"leg", first?: 1|-1,
 *   elbow?: number, held?: number, frame: [number, number, number, number]}} Drawn
 * @typedef {{like: string, up?: number, down?: number}} Own the shipped movement whose drawing it has, and the ends of its own arc
 */

/** @type {[number, number, number, number]} */
const LIFTED = [-172, -160, 344, 320];
/** @type {[number, number, number, number]} */
const HANGING = [-176, -166, 352, 340];
/** @type {[number, number, number, number]} */
const STRETCHED = [-388, -130, 582, 380];
/** @type {[number, number, number, number]} */
const SOFTLY = [-388, -176, 582, 410];

/** @type {Record<string, Drawn>} */
const DRAWN = {
  fingers: { way: "fingers", side: "palm", roll: 90, up: 0, down: 0, bears: "thigh", frame: [-160, -150, 370, 300] },
  circles_thumb_first: {
    way: "circle",
    side: "thumb",
    roll: 0,
    up: 32,
    down: 32,
    first: 1,
    bears: "thigh",
    frame: LIFTED,
  },
  circles_little_first: {
    way: "circle",
    side: "thumb",
    roll: 0,
    up: 32,
    down: 32,
    first: -1,
    bears: "thigh",
    frame: LIFTED,
  },
  palm_down: { way: "lift", side: "thumb", roll: 0, up: 55, down: 35, bears: "table", frame: LIFTED },
  palm_up: { way: "lift", side: "little", roll: 165, up: 35, down: 55, bears: "table", frame: LIFTED },
  thumb_up: { way: "lift", side: "palm", roll: 90, up: 20, down: 30, bears: "table", frame: LIFTED },
  little_finger_up: { way: "lift", side: "back", roll: 90, up: 30, down: 20, bears: "leg", frame: HANGING },
  stretch_palm_down: { way: "stretch", side: "thumb", roll: 0, up: 0, down: 58, elbow: 10, held: 62, frame: STRETCHED },
  stretch_palm_up: { way: "stretch", side: "little", roll: 165, up: 0, down: 58, elbow: 0, held: 70, frame: STRETCHED },
  stretch_palm_up_soft: {
    way: "stretch",
    side: "little",
    roll: 165,
    up: 0,
    down: 55,
    elbow: 36,
    held: 70,
    frame: SOFTLY,
  },
};

/**
 * @param {string|null} movement id
 * @param {Own|null} [own] where it is a movement of the practice's own
 * @returns {Drawn|null} null for a movement that has no picture
 */
export function drawnFor(movement, own) {
  const drawn = DRAWN[own?.like ?? movement ?? ""] ?? null;
  if (!drawn || !own) return drawn;
  const up = own.up ?? drawn.up;
  // A circle is as wide down as up.
  return { ...drawn, up, down: own.down ?? (drawn.way === "circle" ? up : drawn.down) };
}

/** @returns {string[]} the movements that have a picture */
export const drawnMovements = () => Object.keys(DRAWN);
