/**
 * A movement's picture in motion: three turns at the real tempo, or three stills where the reader prefers less motion.
 *
 * @typedef {import("../drawing/wrist_drawing.js").Subject} Subject
 * @typedef {import("../pure/session/timeline.js").Step} Step
 */

import { createWristDrawing } from "../drawing/wrist_drawing.js";
import { turnedAt } from "../pure/session/pacer.js";
import { stateAt } from "../pure/session/timeline.js";

const TURNS = 3;
/** A stretch comes into its hold and stays there for a moment; its whole length would show nothing more. */
const STRETCH_SECONDS = 6;
const INTO_MS = 3000;
const STILLS = [0, 0.5, 1];

/**
 * @param {Step} step of a session
 * @returns {Step} the same step with as many turns as are shown, at its own tempo
 */
export function turnsOf(step) {
  if (step.kind === "hold") return { ...step, reps: 0, seconds: STRETCH_SECONDS };
  return { ...step, reps: TURNS, seconds: (step.seconds * TURNS) / step.reps };
}

/**
 * @param {HTMLElement} holder
 * @param {Subject} subject
 * @param {Step} step as `turnsOf` returns it
 * @param {boolean} isStill
 * @returns {{play(done: () => void): void, rest(): void}} play: the turns, once; rest: holds the picture still
 */
export function createTurns(holder, subject, step, isStill) {
  const drawings = (isStill ? STILLS : [1]).map((part) => {
    const drawing = createWristDrawing(document);
    drawing.show(subject);
    drawing.turn(turnedAt(subject.drawn, step, stillAt(step, part)));
    holder.append(drawing.element);
    return drawing;
  });
  const [drawing] = drawings;
  const lengthMs = step.seconds * 1000;
  const times = step.kind === "hold" ? TURNS : 1;
  let frame = 0;
  const rest = () => {
    cancelAnimationFrame(frame);
    drawing.turn(turnedAt(subject.drawn, step, stillAt(step, 1)));
  };
  return {
    rest,
    play(done) {
      let began = 0;
      const look = (/** @type {number} */ now) => {
        began ||= now;
        const at = now - began;
        if (at >= lengthMs * times) {
          rest();
          done();
          return;
        }
        drawing.turn(turnedAt(subject.drawn, step, stateAt([step], at % lengthMs)));
        frame = requestAnimationFrame(look);
      };
      frame = requestAnimationFrame(look);
    },
  };
}

/**
 * @param {Step} step
 * @param {number} part 0 at the lower end, 1 at the upper
 * @returns {import("../pure/session/timeline.js").Moment}
 */
function stillAt({ kind, reps, up }, part) {
  const phase = kind === "hold" ? "hold" : "up";
  const phaseMs = kind === "hold" ? INTO_MS : up * 1000;
  const [stepMs, rep] = [part * INTO_MS, reps ? 1 : 0];
  return { step: 0, phase, rep, reps, fraction: part, phaseMs, stepMs, stepFraction: part, secondsLeft: 0 };
}
