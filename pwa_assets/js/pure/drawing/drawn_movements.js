/**
 * The numbers that make each movement's picture; wrist_scene.js draws them.
 * Angles are degrees from level, up is positive. `up` and `down` are the full range of the wrist at this roll of the forearm;
 * the day's range is a part of it. `roll` turns palm and thumb a little towards the eye, so that they can be seen.
 * `first`: the side to which a circle starts; `held`: millimetres from the wrist to where the other hand holds; `apart`: the thumb
 * of an empty hand stands off. `frame` is the view: x, y, width, height in millimetres, no larger than the movement needs.
 *
 * @typedef {"lift"|"fingers"|"circle"|"stretch"} Way
 * @typedef {{way: Way, roll: number, up: number, down: number, first?: 1|-1, held?: number, bent?: boolean, apart?: boolean,
 *   frame: [number, number, number, number]}} Drawn
 */

/** @type {Record<string, Drawn>} */
const DRAWN = {
  fingers: { way: "fingers", roll: 62, up: 0, down: 0, frame: [-116, -88, 330, 184] },
  circles_thumb_first: { way: "circle", roll: 0, up: 32, down: 32, first: -1, frame: [-150, -114, 330, 230] },
  circles_little_first: { way: "circle", roll: 0, up: 32, down: 32, first: 1, frame: [-150, -114, 330, 230] },
  palm_down: { way: "lift", roll: 0, up: 55, down: 35, frame: [-150, -137, 316, 248] },
  palm_up: { way: "lift", roll: 205, up: 35, down: 55, frame: [-150, -124, 316, 261] },
  thumb_up: { way: "lift", roll: 100, up: 20, down: 30, apart: true, frame: [-150, -126, 316, 231] },
  little_finger_up: { way: "lift", roll: -86, up: 30, down: 20, apart: true, frame: [-150, -107, 316, 237] },
  stretch_palm_down: { way: "stretch", roll: 25, up: 0, down: 72, held: 58, frame: [-128, -112, 360, 328] },
  stretch_palm_up: {
    way: "stretch",
    roll: 212,
    up: 0,
    down: 68,
    held: 142,
    apart: true,
    frame: [-128, -112, 360, 328],
  },
  stretch_palm_up_soft: {
    way: "stretch",
    roll: 212,
    up: 0,
    down: 62,
    held: 142,
    apart: true,
    bent: true,
    frame: [-184, -112, 416, 328],
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
