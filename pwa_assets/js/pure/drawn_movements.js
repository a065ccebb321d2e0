/**
 * What sets one movement's picture apart from another's: a few numbers each, drawn by wrist_scene.js.
 * Angles in degrees from level, up is positive; `up` and `down` are the full range of the wrist in that turn of the
 * forearm, of which the day's range is a part. `first`: the side a circle sets off to; `held`: how far from the wrist
 * the other hand holds. `frame` is the view: x, y, width, height in millimetres.
 *
 * @typedef {"lift"|"fingers"|"circle"|"stretch"} Way
 * @typedef {{way: Way, roll: number, up: number, down: number, first?: 1|-1, held?: number, bent?: boolean,
 *   frame: [number, number, number, number]}} Drawn
 */

/** @type {[number, number, number, number]} */
const BESIDE_KNEE = [-150, -136, 316, 266];
/** @type {[number, number, number, number]} */
const LONG_HAND = [-116, -112, 330, 256];
/** @type {[number, number, number, number]} */
const ARM_OUT = [-128, -86, 360, 306];

/** @type {Record<string, Drawn>} */
const DRAWN = {
  fingers: { way: "fingers", roll: 62, up: 0, down: 0, frame: LONG_HAND },
  circles_thumb_first: {
    way: "circle",
    roll: 0,
    up: 32,
    down: 32,
    first: -1,
    frame: BESIDE_KNEE,
  },
  circles_little_first: {
    way: "circle",
    roll: 0,
    up: 32,
    down: 32,
    first: 1,
    frame: BESIDE_KNEE,
  },
  palm_down: { way: "lift", roll: 0, up: 55, down: 35, frame: BESIDE_KNEE },
  palm_up: { way: "lift", roll: 180, up: 35, down: 55, frame: BESIDE_KNEE },
  thumb_up: { way: "lift", roll: 90, up: 20, down: 30, frame: BESIDE_KNEE },
  little_finger_up: {
    way: "lift",
    roll: -90,
    up: 30,
    down: 20,
    frame: BESIDE_KNEE,
  },
  stretch_palm_down: {
    way: "stretch",
    roll: 0,
    up: 0,
    down: 72,
    frame: ARM_OUT,
  },
  stretch_palm_up: {
    way: "stretch",
    roll: 180,
    up: 0,
    down: 68,
    held: 84,
    frame: ARM_OUT,
  },
  stretch_palm_up_soft: {
    way: "stretch",
    roll: 180,
    up: 0,
    down: 62,
    held: 84,
    bent: true,
    frame: ARM_OUT,
  },
};

/**
 * @param {string|null} movement id
 * @returns {Drawn|null} null for a movement that has no picture yet
 */
export function drawnFor(movement) {
  return (movement && DRAWN[movement]) || null;
}

/** @returns {string[]} the movements that have a picture */
export const drawnMovements = () => Object.keys(DRAWN);
