/**
 * The session on the screen. It shows what the driver passes in and decides nothing. A text is written only when it changes.
 *
 * @typedef {import("../pure/session/timeline.js").Step} Step
 * @typedef {import("../pure/session/timeline.js").Moment} Moment
 * @typedef {import("../pure/session/player.js").Session} Session
 * @typedef {import("../pure/session/run.js").Plan} Plan
 * @typedef {import("../pure/drawing/drawn_movements.js").Own} Own
 * @typedef {Record<string, {cues?: {up: string, down: string}, own?: Own}>} Movements words of the bundle, by movement
 */

import { createWristDrawing } from "../drawing/wrist_drawing.js";
import { fillSlots, find, keepFocus } from "../parts/pieces.js";
import { drawnFor } from "../pure/drawing/drawn_movements.js";
import { turnedAt } from "../pure/session/pacer.js";
import { isWork } from "../pure/session/timeline.js";

const CAPTION_MS = 4000;
/** A discomfort that fades does so within this many reps. */
const FIRST_REPS = 4;
const PHASE_WORDS = {
  ready: "play.get_ready",
  rest: "play.rest",
  change: "play.change",
  hold: "play.hold",
  done: "play.done",
};

export class SessionView {
  /** @type {Map<string, string>} */
  #said = new Map();
  /** @type {{subject: import("../drawing/wrist_drawing.js").Subject, step: Step}|null} */
  #drawn = null;
  /** @type {{text: string, step: number, untilMs: number}|null} */
  #caption = null;

  /**
   * @param {HTMLElement} root holds the session's template
   * @param {import("../edges/screen/words.js").Words} words
   * @param {Plan} plan
   * @param {Movements} movements
   * @param {boolean} isStill whether the client prefers reduced motion
   */
  constructor(root, words, plan, movements, isStill) {
    this.root = root;
    this.words = words;
    this.movements = movements;
    this.isStill = isStill;
    this.drawing = createWristDrawing(document);
    find(root, "[data-picture]").append(this.drawing.element);
    this.#say("first", words.say("play.first"));
    this.plan = plan;
    this.replan(plan);
  }

  /** @param {Plan} plan */
  replan(plan) {
    this.plan = plan;
    find(this.root, "[data-bar]").replaceChildren(...this.#parts().map(() => document.createElement("span")));
  }

  #parts() {
    return this.plan.steps.flatMap((step, i) => (isWork(step) ? [i] : []));
  }

  /** Shows words in place of the hint for as long as they are spoken. @param {string} text @param {Moment} moment */
  caption(text, { step, stepMs }) {
    this.#caption = { text, step, untilMs: stepMs + CAPTION_MS };
    this.#say("cue", text);
  }

  /** @param {string} slot @param {string} text */
  #say(slot, text) {
    if (this.#said.get(slot) === text) return;
    this.#said.set(slot, text);
    fillSlots(this.root, { [slot]: text });
  }

  /** @param {number} index */
  step(index) {
    const step = this.plan.steps[index];
    const arm = this.words.say(`arm.${step.arm}`);
    this.root.dataset.kind = step.kind;
    this.#say("name", step.name);
    this.#say(
      "about",
      step.load
        ? this.words.fill("play.about", { arm, load: step.load })
        : this.words.fill("play.about_no_load", { arm }),
    );
    this.#caption = null;
    this.#say("cue", hintOf(step));
    this.#picture(index);
  }

  /** Shows the picture of a step; in a rest or a change of arm, the picture of the next movement. @param {number} index */
  #picture(index) {
    const steps = this.plan.steps;
    const pictured = steps.slice(index).find((step) => step.movement) ?? null;
    const movement = pictured?.movement ?? null;
    const drawn = drawnFor(movement, this.movements[movement ?? ""]?.own);
    find(this.root, "[data-picture]").hidden = !drawn;
    this.#drawn = null;
    if (!drawn || !pictured) return;
    const subject = {
      drawn,
      arm: steps[index].arm,
      weighted: isWeighted(this.plan, pictured),
      range: pictured.range,
    };
    this.#drawn = { subject, step: pictured };
    this.drawing.show(subject);
  }

  /** @param {Moment} moment @param {Session} session @param {number} leadMs */
  moment(moment, session, leadMs) {
    const step = this.plan.steps[moment.step];
    const status = leadMs ? "lead" : session.status;
    if (leadMs) this.#count(Math.ceil(leadMs / 1000), this.words.say("play.lead"));
    else if (moment.rep) this.#reps(moment, step, status);
    else
      this.#count(
        moment.secondsLeft,
        this.words.say(status === "paused" ? "play.paused" : PHASE_WORDS[/** @type {"rest"} */ (moment.phase)]),
      );
    if (this.#caption && (moment.step !== this.#caption.step || moment.stepMs > this.#caption.untilMs)) {
      this.#caption = null;
      this.#say("cue", hintOf(step));
    }
    find(this.root, '[data-note="first"]').hidden =
      step.kind !== "reps" || moment.rep > FIRST_REPS || status === "ready";
    this.#turn(status, Boolean(step.isGated) && status !== "ready");
    this.#bar(moment);
    if (this.#drawn) this.drawing.turn(turnedAt(this.#drawn.subject.drawn, this.#drawn.step, moment, this.isStill));
  }

  /** Sets the status, which decides which controls the sheet shows. @param {string} status @param {boolean} isGated */
  #turn(status, isGated) {
    if (this.root.dataset.status === status && this.root.hasAttribute("data-gated") === isGated) return;
    this.root.dataset.status = status;
    this.root.toggleAttribute("data-gated", isGated);
    keepFocus(this.root);
  }

  /** @param {number} seconds @param {string} phase */
  #count(seconds, phase) {
    this.#say("numeral", this.words.number(seconds));
    this.#say("of", this.words.plural("play.seconds", seconds));
    this.#say("phase", phase);
  }

  /** @param {Moment} moment @param {Step} step @param {string} status */
  #reps({ rep, reps, phase, fraction }, step, status) {
    const isWaiting = step.isGated && phase === "down" && fraction > 0.99;
    const cues = this.movements[step.movement ?? ""]?.cues;
    const way = phase === "up" ? (cues?.up ?? this.words.say("play.up")) : (cues?.down ?? this.words.say("play.down"));
    this.#say("numeral", this.words.number(rep));
    this.#say("of", this.words.fill("play.of", { reps }));
    const now = isWaiting ? this.words.say("play.waiting") : way;
    this.#say("phase", status === "paused" ? this.words.say("play.paused") : now);
  }

  /** @param {Moment} moment */
  #bar({ step, stepFraction }) {
    const segments = find(this.root, "[data-bar]").children;
    this.#parts().forEach((part, i) => {
      const filled = part < step ? 1 : part > step ? 0 : stepFraction;
      const text = filled.toFixed(2);
      const segment = /** @type {HTMLElement} */ (segments[i]);
      if (segment.style.getPropertyValue("--filled") !== text) segment.style.setProperty("--filled", text);
      segment.toggleAttribute("data-now", part === step);
    });
  }
}

/** @param {Step} step @returns {string} the text below the name while nothing is spoken */
const hintOf = (step) => (isWork(step) ? step.hint : step.cue);

/** @param {Plan} plan @param {Step} step @returns {boolean} whether a dumbbell is in the hand */
function isWeighted(plan, step) {
  if (step.load_kg !== undefined) return step.load_kg > 0;
  const dose = plan.arms.find(({ arm }) => arm === step.arm)?.dose;
  return Boolean(dose?.sets.find((set) => set.movement === step.movement)?.load_kg);
}
