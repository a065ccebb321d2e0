/**
 * The picture of a movement, which also sets the pace: an SVG whose paths follow the hand.
 * It draws elements and reads no clock. A left arm is the mirror image of a right arm.
 */

import { placedBy } from "../pure/drawing/hand_model.js";
import { discPath, linePath, onPaper } from "../pure/drawing/line_art.js";
import { wristScene } from "../pure/drawing/wrist_scene.js";
import { marksOf, onLoop } from "../pure/session/pacer.js";

/**
 * @typedef {import("../pure/drawing/drawn_movements.js").Drawn} Drawn
 * @typedef {import("../pure/session/pacer.js").Turned} Turned
 * @typedef {import("../pure/drawing/line_art.js").Spot} Spot
 * @typedef {{drawn: Drawn, arm: string, weighted: boolean, range: number}} Subject
 */

const SVG = "http://www.w3.org/2000/svg";
const LIFT_ARC = 148;
const HOLD_ARC = 207;
const LOOP = 148;
const MARK_R = 8.5;
const END_HALF = 13;
const ARROW = 9;

/**
 * @param {Document} page
 * @returns {{element: SVGSVGElement, show: (subject: Subject) => void, turn: (turned: Turned) => void}}
 *   show: sets the movement; turn: moves the hand
 */
export function createWristDrawing(page) {
  const make = (/** @type {string} */ name) => page.createElementNS(SVG, name);
  const element = /** @type {SVGSVGElement} */ (make("svg"));
  element.setAttribute("class", "wrist");
  element.setAttribute("aria-hidden", "true");
  const [mirror, scene] = [make("g"), make("g")];
  const lines = Object.fromEntries(["full", "day", "ends", "mark"].map((name) => [name, made(make, `wrist-${name}`)]));
  mirror.append(lines.full, lines.day, lines.ends, scene, lines.mark);
  element.append(mirror);
  /** @type {Subject|null} */
  let subject = null;
  /** @type {ReturnType<typeof wristScene>} */
  let strokesAt = () => [];
  let [handAt, runAt] = ["", ""];
  return {
    element,
    show(next) {
      subject = next;
      [handAt, runAt] = ["", ""];
      strokesAt = wristScene(next.drawn, next.weighted);
      frame(element, mirror, next);
      layLines(lines, next);
    },
    turn(turned) {
      if (!subject) return;
      const { bend, swing, open, mark, ran } = turned;
      const hand = nearly(bend * 4, swing * 4, open * 200);
      const run = nearly(mark * 4, ran * 400);
      if (hand !== handAt) ink(scene, strokesAt(turned), make);
      if (run !== runAt) moveLines(lines, subject, turned);
      [handAt, runAt] = [hand, run];
    },
  };
}

/** A key that changes only when the eye can see a movement: during a long hold nothing is drawn again. @param {...number} parts */
const nearly = (...parts) => parts.map(Math.round).join(" ");

/** @param {(name: string) => Element} make @param {string} name */
function made(make, name) {
  const path = make("path");
  path.setAttribute("class", name);
  return path;
}

/** @param {Element} element @param {Element} mirror @param {Subject} subject */
function frame(element, mirror, { drawn, arm }) {
  const [x, y, width, height] = drawn.frame;
  const isLeft = arm === "left";
  element.setAttribute("viewBox", [isLeft ? -x - width : x, y, width, height].join(" "));
  mirror.setAttribute("transform", isLeft ? "scale(-1 1)" : "scale(1 1)");
}

/**
 * Writes the strokes into the scene's paths, and reuses the paths that are there.
 * @param {Element} scene @param {import("../pure/drawing/wrist_scene.js").Stroke[]} strokes @param {(name: string) => Element} make
 */
function ink(scene, strokes, make) {
  while (scene.childElementCount > strokes.length) scene.lastElementChild?.remove();
  while (scene.childElementCount < strokes.length) scene.append(make("path"));
  strokes.forEach(({ kind, d }, i) => {
    const path = scene.children[i];
    // An attribute that is not set again causes no repaint: in a pause the picture costs nothing.
    if (path.getAttribute("d") !== d) path.setAttribute("d", d);
    if (path.getAttribute("class") !== `wrist-${kind}`) path.setAttribute("class", `wrist-${kind}`);
  });
}

/** @param {Record<string, Element>} lines @param {Subject} subject */
function layLines(lines, { drawn, range }) {
  const { top, bottom } = marksOf(drawn, range);
  const blank = { full: "", day: "", ends: "", mark: "" };
  const laid = {
    fingers: () => blank,
    circle: () => ({
      ...blank,
      day: loopPath(drawn, range),
      ends: [90, 270].map((at) => arrowPath(loopSpot(drawn, range, at + 6), loopSpot(drawn, range, at - 6))).join(""),
    }),
    lift: () => ({
      ...blank,
      full: range < 1 ? arcPath(LIFT_ARC, -drawn.down, drawn.up) : "",
      day: arcPath(LIFT_ARC, bottom, top),
      ends: endPath(LIFT_ARC, bottom) + endPath(LIFT_ARC, top),
    }),
    stretch: () => ({
      ...blank,
      full: arcPath(HOLD_ARC, 0, bottom),
      ends: endPath(HOLD_ARC, 0) + arrowPath(onArc(HOLD_ARC, bottom), onArc(HOLD_ARC, bottom + 6)),
    }),
  }[drawn.way]();
  for (const [name, d] of Object.entries(laid)) lines[name].setAttribute("d", d);
}

/** @param {Record<string, Element>} lines @param {Subject} subject @param {Turned} turned */
function moveLines(lines, { drawn, range }, { mark, ran }) {
  if (drawn.way === "fingers") return;
  const runs = marksOf(drawn, range).bottom * ran;
  const at = {
    lift: () => onArc(LIFT_ARC, mark),
    circle: () => loopSpot(drawn, range, mark),
    stretch: () => onArc(HOLD_ARC, runs),
  }[drawn.way]();
  lines.mark.setAttribute("d", discPath(at, MARK_R));
  if (drawn.way === "stretch") lines.day.setAttribute("d", arcPath(HOLD_ARC, 0, runs));
}

/** @param {number} r @param {number} degrees @returns {Spot} */
function onArc(r, degrees) {
  const angle = (degrees * Math.PI) / 180;
  return [r * Math.cos(angle), -r * Math.sin(angle)];
}

/** @param {number} r @param {number} from @param {number} to degrees */
function arcPath(r, from, to) {
  const [a, b] = [onArc(r, from), onArc(r, to)];
  return `M${a.join(" ")}A${r} ${r} 0 0 ${to > from ? 0 : 1} ${b.join(" ")}`;
}

/** @param {number} r @param {number} degrees */
const endPath = (r, degrees) => linePath([onArc(r - END_HALF, degrees), onArc(r + END_HALF, degrees)]);

/** @param {Drawn} drawn @param {number} range @param {number} degrees @returns {Spot} */
function loopSpot(drawn, range, degrees) {
  return onPaper(placedBy({ roll: 0, ...onLoop(drawn, range, degrees) })([LOOP, 0, 0]));
}

/** @param {Drawn} drawn @param {number} range */
function loopPath(drawn, range) {
  return linePath(
    Array.from({ length: 48 }, (_, i) => loopSpot(drawn, range, i * 7.5)),
    true,
  );
}

/** The head of an arrow that points from `back` to `tip`. @param {Spot} tip @param {Spot} back */
function arrowPath(tip, back) {
  const along = Math.atan2(tip[1] - back[1], tip[0] - back[0]);
  /** @param {number} turn @returns {Spot} */
  const wing = (turn) => [tip[0] - ARROW * 1.6 * Math.cos(along + turn), tip[1] - ARROW * 1.6 * Math.sin(along + turn)];
  return linePath([wing(0.6), tip, wing(-0.6)]);
}
