/**
 * The picture of a movement, which also sets the pace. It draws elements and reads no clock. Its paths are built once; a frame sets
 * a few transforms, and the paths of the skin that bends. A right arm is drawn as a left arm's mirror image, with a sleeve of its own.
 */

import { arrowPath, fanPaths, wedgePath } from "../pure/drawing/fan.js";
import { linePath } from "../pure/drawing/limb.js";
import { pullLeft, sceneOf } from "../pure/drawing/scene.js";
import { carried, matrixOf } from "../pure/drawing/wrist.js";
import { marksOf, onLoop } from "../pure/session/pacer.js";
import { ruler } from "./ruler.js";

/**
 * @typedef {import("../pure/drawing/drawn_movements.js").Drawn} Drawn
 * @typedef {import("../pure/drawing/ink.js").Stroke} Stroke
 * @typedef {import("../pure/session/pacer.js").Turned} Turned
 * @typedef {{drawn: Drawn, arm: string, weighted: boolean, range: number}} Subject
 * @typedef {(name: string, attributes?: Record<string, string>) => SVGElement} Make
 * @typedef {{from: (turned: Turned) => number[], move: (turned: Turned) => void}} Moving
 *   from: the numbers that it follows; where they stay the same nothing is set, so nothing is painted
 */

const SVG = "http://www.w3.org/2000/svg";
/** How far from the wrist a circling hand draws its loop. */
const REACH = 148;
/** Half of what two arms are apart. */
const APART = 8;
const LOOP_ARROW = "M-16 -14L18 0L-16 14Z";

/**
 * @param {Document} page
 * @returns {{element: SVGSVGElement, show: (subject: Subject) => void, turn: (turned: Turned) => void}}
 *   show: sets the movement; turn: moves the hand
 */
export function createWristDrawing(page) {
  /** @type {Make} */
  const make = (name, attributes = {}) => {
    const made = page.createElementNS(SVG, name);
    for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
    return made;
  };
  const element = /** @type {SVGSVGElement} */ (make("svg", { class: "wrist", "aria-hidden": "true" }));
  const [arms, time] = [make("g"), make("g")];
  element.append(arms, time);
  /** @type {Moving[]} */
  let moving = [];
  /** @type {string[]} */
  let before = [];
  return {
    element,
    show(subject) {
      const { box, places } = frame(element, subject);
      const groups = places.map((transform) => make("g", { transform }));
      arms.replaceChildren(...groups);
      moving = [...groups.flatMap((placed, i) => draw(make, placed, subject, isLeft(subject, i)))];
      moving.push(ruler(make, time, box), resting(element));
      before = [];
    },
    turn(turned) {
      moving.forEach(({ from, move }, i) => {
        const now = from(turned).map(Math.round).join(" ");
        if (now !== before[i]) move(turned);
        before[i] = now;
      });
    },
  };
}

/** Of two arms the left one is drawn first. @param {Subject} subject @param {number} nth */
const isLeft = ({ arm }, nth) => arm === "left" || (arm === "both" && nth === 0);

/**
 * Sets the view. An arm comes in from the edge of the picture: a left one from the left, a hanging one from above.
 * @param {SVGElement} element @param {Subject} subject
 * @returns {{box: number[], places: string[]}} the view as x, y, width and height; the transform of each arm
 */
function frame(element, { drawn, arm }) {
  const [x, y, width, height] = drawn.frame;
  const hangs = drawn.bears === "leg";
  const [left, right] = [1, -1].map((way) => `scale(${way} 1)${hangs ? " rotate(90)" : ""}`);
  const apart = x + width + APART;
  const views = {
    left: { box: [x, y, width, height], places: [left], side: "xMin" },
    both: {
      box: [-width - APART, y, 2 * (width + APART), height],
      places: [`translate(${-apart} 0) ${left}`, `translate(${apart} 0) ${right}`],
      side: "xMid",
    },
    right: { box: [-x - width, y, width, height], places: [right], side: "xMax" },
  };
  const { box, places, side } = views[/** @type {"left"} */ (arm)] ?? views.right;
  element.setAttribute("data-way", drawn.way);
  element.setAttribute("data-arms", String(places.length));
  element.setAttribute("viewBox", box.join(" "));
  element.setAttribute("preserveAspectRatio", hangs ? "xMidYMin" : `${side}YMid`);
  return { box, places };
}

/** @param {Make} make @param {SVGElement} placed @param {Subject} subject @param {boolean} isStriped @returns {Moving[]} */
function draw(make, placed, subject, isStriped) {
  const { behind, before } = sceneOf(subject.drawn, isStriped, subject.weighted);
  const [far, pace, near] = [make("g"), make("g"), make("g")];
  const arrow = make("path", { class: "wrist-mark" });
  const moving = [
    inked(make, far, behind, subject.drawn),
    ...paced(make, pace, arrow, subject),
    inked(make, near, before, subject.drawn),
  ];
  placed.replaceChildren(far, pace, near, arrow);
  return moving;
}

/**
 * Lays out strokes. Neighbours that are carried along together share a group, so that a frame sets few transforms.
 * @param {Make} make @param {SVGElement} group @param {Stroke[]} strokes @param {Drawn} drawn
 * @returns {Moving}
 */
function inked(make, group, strokes, drawn) {
  /** @type {((turned: Turned) => void)[]} */
  const moves = [];
  /** @type {Record<Stroke["on"], SVGElement[]>} */
  const groups = { still: [], hand: [], help: [] };
  strokes.forEach(({ kind, on, d }, i) => {
    if (strokes[i - 1]?.on !== on) {
      groups[on].push(make("g"));
      group.append(groups[on][groups[on].length - 1]);
    }
    const path = make("path", { class: `wrist-${kind}` });
    groups[on][groups[on].length - 1].append(path);
    if (typeof d === "string") path.setAttribute("d", d);
    else moves.push((turned) => path.setAttribute("d", d(turned)));
  });
  return {
    from: ({ bend, swing, open }) => [bend * 8, swing * 8, open * 200],
    move(turned) {
      for (const move of moves) move(turned);
      const matrix = `matrix(${matrixOf(turned).join(" ")} 0 0)`;
      for (const part of groups.hand) part.setAttribute("transform", matrix);
      const pulled = `translate(${pullLeft(drawn, turned.bend).join(" ")})`;
      for (const part of groups.help) part.setAttribute("transform", pulled);
    },
  };
}

/** @param {Make} make @param {SVGElement} group @param {SVGElement} arrow @param {Subject} subject @returns {Moving[]} */
function paced(make, group, arrow, { drawn, range }) {
  if (drawn.way === "circle") return looped(make, group, arrow, drawn, range);
  if (drawn.way !== "lift") return [];
  const marks = marksOf(drawn, range);
  const { half, full, rest, dots, day, ends } = fanPaths(drawn, marks);
  const paths = Object.entries({ half, full, rest, dots, swept: "", day, ends }).map(
    ([name, d]) => /** @type {[string, SVGElement]} */ ([name, make("path", { class: `wrist-${name}`, d })]),
  );
  const { swept } = Object.fromEntries(paths);
  group.append(...paths.map(([, path]) => path));
  return [
    {
      from: ({ bend, mark, ahead, time }) => [bend * 8, mark * 8, ahead, Number(time !== null)],
      move({ bend, mark, ahead, time }) {
        // In a rest the half turn gives way to the ruler: an arc never tells time.
        for (const part of [group, arrow]) part.setAttribute("display", time ? "none" : "inline");
        swept.setAttribute("d", wedgePath(marks.bottom, bend));
        arrow.setAttribute("d", ahead ? arrowPath(ahead) : "");
        arrow.setAttribute("transform", `rotate(${-mark})`);
      },
    },
  ];
}

/** @param {Make} make @param {SVGElement} group @param {SVGElement} arrow @param {Drawn} drawn @param {number} range @returns {Moving[]} */
function looped(make, group, arrow, drawn, range) {
  const spot = (/** @type {number} */ degrees) =>
    carried([[REACH, 0, 0]], { open: 0, ...onLoop(drawn, range, degrees) })[0];
  const loop = linePath(
    Array.from({ length: 48 }, (_, i) => spot(i * 7.5)),
    true,
  );
  group.append(make("path", { class: "wrist-loop", d: loop }), make("path", { class: "wrist-day", d: loop }));
  arrow.setAttribute("d", LOOP_ARROW);
  return [
    {
      from: ({ mark, time }) => [mark * 8, Number(time !== null)],
      move({ mark, time }) {
        for (const part of [group, arrow]) part.setAttribute("display", time ? "none" : "inline");
        const [[x, y], [toX, toY]] = [spot(mark), spot(mark + 2)];
        const along = (Math.atan2(toY - y, toX - x) * 180) / Math.PI;
        arrow.setAttribute("transform", `translate(${x} ${y}) rotate(${along})`);
      },
    },
  ];
}

/** In a rest nothing leads: the sheet takes the colour away. @param {SVGElement} element @returns {Moving} */
const resting = (element) => ({
  from: ({ time }) => [Number(time !== null)],
  move: ({ time }) => element.setAttribute("data-rests", String(time !== null)),
});
