/**
 * The rehearsal at the practitioner's desk: it plays a cue sheet as the phone does, at up to eight times the speed.
 * It stores nothing and sends nothing. What is due follows from the place on the sheet alone, as on the phone.
 *
 * @typedef {import("../js/pure/session/timeline.js").Step & {weighted: boolean}} Step
 * @typedef {{steps: Step[], cues: Record<string, {up: string, down: string}>,
 *   own: Record<string, import("../js/pure/drawing/drawn_movements.js").Own>}} Played
 */

import { createWristDrawing } from "../js/drawing/wrist_drawing.js";
import { createWords } from "../js/edges/screen/words.js";
import { createTones } from "../js/edges/sound/tones.js";
import { fillSlots, find, onAct } from "../js/parts/pieces.js";
import { drawnFor } from "../js/pure/drawing/drawn_movements.js";
import { cueTimes } from "../js/pure/session/cue_times.js";
import { turnedAt } from "../js/pure/session/pacer.js";
import { happen, newSession, placeAt, stateAt, stepStarts, totalMs } from "../js/pure/session/player.js";

const STILL = "(prefers-reduced-motion: reduce)";
const PHASE_WORDS = /** @type {Record<string, string>} */ ({
  ready: "play.get_ready",
  rest: "play.rest",
  change: "play.change",
  hold: "play.hold",
  done: "play.done",
});
const MAIN_WORDS = /** @type {Record<string, string>} */ ({
  ready: "play.start",
  running: "play.pause",
  paused: "play.go_on",
  ended: "rehearsal.again",
});

const stage = find(document, "[data-rehearsal]");
const { steps, cues, own: ownMovements } = /** @type {Played} */ (JSON.parse(stage.dataset.played ?? ""));
const words = createWords(document);
const tones = createTones();
const starts = stepStarts(steps);
const drawing = createWristDrawing(document);
const isStill = matchMedia(STILL).matches;
const always = new AbortController().signal;
let session = newSession();
/** The rehearsal's own clock: from the instant `since` of the page's clock on it runs at one speed. */
let pace = { speed: 1, at: 0, since: performance.now() };
let shown = -1;

find(stage, "[data-picture]").append(drawing.element);
find(stage, "[data-stage]").hidden = false;
for (const step of stage.querySelectorAll("[data-step]")) step.toggleAttribute("disabled", false);
listen();
look();

/** @returns {number} milliseconds of the rehearsal's own clock */
function now() {
  return pace.at + (performance.now() - pace.since) * pace.speed;
}

/** @param {"start"|"resume"|"pause"|"skip"|"back"} kind */
function act(kind) {
  session = happen(steps, session, { kind, mono: now() });
  layTones();
  look();
}

/** Lets the last tone ring out, and closes the audio context. */
function end() {
  session = happen(steps, session, { kind: "end", mono: now(), ended: "completed", why: "" });
  tones.finish();
  look();
}

/** Pauses and silences the rehearsal when the page is left. */
function leave() {
  if (session.status === "running") act("pause");
  tones.finish();
}

function turn() {
  if (session.status === "ended") session = newSession();
  act(session.status === "running" ? "pause" : session.status === "ready" ? "start" : "resume");
}

/** @param {number} speed 1 to 8 */
function go(speed) {
  pace = { speed, at: now(), since: performance.now() };
  layTones();
}

/** @param {number} index */
function jump(index) {
  const isRunning = session.status === "running";
  session = newSession({ ...session, status: "paused", atMs: starts[index], since: now() });
  act(isRunning ? "resume" : "pause");
}

/** Schedules the tones; the speed divides their times. Must be called inside a tap. */
function layTones() {
  const isHeard = /** @type {HTMLInputElement} */ (find(stage, "[data-tones]")).checked && session.status === "running";
  if (!isHeard) return tones.hush();
  tones.wake();
  const close = cueTimes(steps).map((cue) => ({ ...cue, atMs: cue.atMs / pace.speed }));
  tones.plan(close, placeAt(steps, session, now()) / pace.speed, performance.now());
}

/** Shows what is due; while it plays, it looks again at the next frame. */
function look() {
  const atMs = placeAt(steps, session, now());
  const moment = stateAt(steps, atMs);
  if (moment.step !== shown) showStep(moment.step);
  showMoment(moment);
  const [at, whole] = [clockText(atMs), clockText(totalMs(steps))];
  fillSlots(stage, { main: words.say(MAIN_WORDS[session.status]), time: words.fill("rehearsal.time", { at, whole }) });
  stage.dataset.status = session.status;
  if (session.status === "ended") return;
  if (atMs >= totalMs(steps)) return end();
  if (session.status !== "running") return;
  tones.follow(atMs / pace.speed, performance.now());
  requestAnimationFrame(() => session.status === "running" && look());
}

/** @param {number} index */
function showStep(index) {
  shown = index;
  const step = steps[index];
  const arm = words.say(`arm.${step.arm}`);
  const about = step.load
    ? words.fill("play.about", { arm, load: step.load })
    : words.fill("play.about_no_load", { arm });
  fillSlots(stage, { name: step.name, about, cue: step.cue });
  const subject = subjectOf(index);
  find(stage, "[data-picture]").hidden = !subject;
  if (subject) drawing.show(subject);
  for (const button of stage.querySelectorAll("[data-step]")) {
    const isNow = button.getAttribute("data-step") === String(index);
    if (isNow) button.setAttribute("aria-current", "step");
    else button.removeAttribute("aria-current");
  }
}

/** The step whose picture to show: this step, or in a rest the next one with a movement. @param {number} index */
function picturedAt(index) {
  return steps.slice(index).find((step) => step.movement) ?? null;
}

/** @param {number} index @returns {import("../js/drawing/wrist_drawing.js").Subject|null} */
function subjectOf(index) {
  const pictured = picturedAt(index);
  const drawn = drawnFor(pictured?.movement ?? null, ownMovements[pictured?.movement ?? ""]);
  return pictured && drawn && { drawn, arm: steps[index].arm, weighted: pictured.weighted, range: pictured.range };
}

/** @param {import("../js/pure/session/timeline.js").Moment} moment */
function showMoment(moment) {
  const step = steps[moment.step];
  const way = moment.phase === "up" || moment.phase === "down" ? moment.phase : null;
  const own = way && cues[step.movement ?? ""]?.[way];
  fillSlots(stage, {
    numeral: words.number(moment.rep || moment.secondsLeft),
    of: moment.rep ? words.fill("play.of", { reps: moment.reps }) : words.plural("play.seconds", moment.secondsLeft),
    phase: own ?? words.say(way ? `play.${way}` : PHASE_WORDS[moment.phase]),
  });
  const [pictured, subject] = [picturedAt(moment.step), subjectOf(moment.step)];
  if (pictured && subject) drawing.turn(turnedAt(subject.drawn, pictured, moment, isStill));
}

/** @param {number} ms @returns {string} minutes and seconds */
function clockText(ms) {
  const seconds = Math.round(ms / 1000);
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;
}

function listen() {
  addEventListener("pagehide", leave);
  onAct(stage, "main", turn, always);
  onAct(stage, "back", () => act("back"), always);
  onAct(stage, "skip", () => act("skip"), always);
  find(stage, "[data-tones]").addEventListener("change", layTones);
  for (const choice of stage.querySelectorAll("[name=speed]")) {
    choice.addEventListener("change", () => go(Number(/** @type {HTMLInputElement} */ (choice).value)));
  }
  for (const button of stage.querySelectorAll("[data-step]")) {
    button.addEventListener("click", () => jump(Number(button.getAttribute("data-step"))));
  }
}
