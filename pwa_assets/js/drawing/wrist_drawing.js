/**
 * The picture of a movement, which also sets the pace. It draws elements and reads no clock. Its paths are built once; a frame sets
 * a few transforms, and the paths of the skin that bends. A right arm is drawn as a left arm's mirror image, with a sleeve of its own.
 */

import { arrowPath, fanPaths, wedgePath } from "../pure/drawing/fan.js";
import { boxPath, linePath } from "../pure/drawing/limb.js";
import { pullLeft, sceneOf } from "../pure/drawing/scene.js";
import { carried, matrixOf } from "../pure/drawing/wrist.js";
import { marksOf, onLoop } from "../pure/session/pacer.js";

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
/** Its distance from the edges of the picture, its height, its short lines, and the most seconds with a line each. */
const RULER = { edge: 12, high: 14, tick: 4.5, most: 60 };
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
  const [placed, time] = [make("g"), make("g")];
  element.append(placed, time);
  /** @type {Moving[]} */
  let moving = [];
  /** @type {string[]} */
  let before = [];
  return {
    element,
    show(subject) {
      const box = frame(element, placed, subject);
      moving = [...draw(make, placed, subject), ruler(make, time, box), resting(element)];
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

/** @param {SVGElement} element @param {SVGElement} placed @param {Subject} subject @returns {number[]} x, y, width and height of the view */
function frame(element, placed, { drawn, arm }) {
  const [x, y, width, height] = drawn.frame;
  const [hangs, isLeft] = [drawn.bears === "leg", arm === "left"];
  // The arm comes in from the edge of the picture: a left one from the left, a hanging one from above.
  const side = hangs ? "xMidYMin" : isLeft ? "xMinYMid" : "xMaxYMid";
  const box = [isLeft ? x : -x - width, y, width, height];
  element.setAttribute("data-way", drawn.way);
  element.setAttribute("viewBox", box.join(" "));
  element.setAttribute("preserveAspectRatio", `${side} meet`);
  placed.setAttribute("transform", `scale(${isLeft ? 1 : -1} 1)${hangs ? " rotate(90)" : ""}`);
  return box;
}

/** @param {Make} make @param {SVGElement} placed @param {Subject} subject @returns {Moving[]} */
function draw(make, placed, subject) {
  const { behind, before } = sceneOf(subject.drawn, subject.arm === "left", subject.weighted);
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

/** Time runs from left to right, in seconds, and is no part of the half turn. @param {Make} make @param {SVGElement} group @param {number[]} box @returns {Moving} */
function ruler(make, group, [left, top, width]) {
  const [x, y, length] = [left + RULER.edge, top + RULER.edge, width - 2 * RULER.edge];
  const [plate, gone, ticks] = ["ruler", "gone", "ticks"].map((name) => make("path", { class: `wrist-${name}` }));
  const bar = (/** @type {number} */ end) => boxPath([x, y], [x + end, y + RULER.high]);
  plate.setAttribute("d", bar(length));
  group.replaceChildren(plate, gone, ticks);
  return {
    from: ({ time }) => (time ? [time.seconds, time.part * 600] : []),
    move({ time }) {
      group.setAttribute("display", time ? "inline" : "none");
      if (!time) return;
      ticks.setAttribute("d", ticksPath([x, y], length, Math.round(time.seconds)));
      gone.setAttribute("d", bar(length * time.part));
    },
  };
}

/** In a rest nothing leads: the sheet takes the colour away. @param {SVGElement} element @returns {Moving} */
const resting = (element) => ({
  from: ({ time }) => [Number(time !== null)],
  move: ({ time }) => element.setAttribute("data-rests", String(time !== null)),
});

/** A line for each second, longer at every fifth. @param {[number, number]} start @param {number} length @param {number} seconds */
function ticksPath([x, y], length, seconds) {
  const every = seconds > RULER.most ? 5 : 1;
  const count = Math.max(0, Math.ceil(seconds / every) - 1);
  return Array.from({ length: count }, (_, i) => {
    const at = (i + 1) * every;
    const across = x + (length * at) / seconds;
    return linePath([
      [across, y],
      [across, y + (at % 5 ? RULER.tick : 2 * RULER.tick)],
    ]);
  }).join("");
}
