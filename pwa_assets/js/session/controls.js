/**
 * The controls of the session's page: the buttons, the picture and the space bar, and the questions that replace them.
 */

import { fillSlots, find, onAct } from "../parts/pieces.js";
import { offerOf } from "./one_tap.js";

/** @typedef {import("./driver.js").SessionDriver} SessionDriver */
/** @typedef {import("./speaker.js").SessionSpeaker} SessionSpeaker */

const CONTROLS = ":is(button,input,summary,a)";

/**
 * Labels the buttons. After an absence they offer the same as the day page does for a session that was left.
 * @param {HTMLElement} page
 * @param {import("../edges/screen/words.js").Words} words
 */
export function showControls(page, words) {
  const { status = "", away } = page.dataset;
  const key = `${status}${away}`;
  if (page.dataset.controls === key) return;
  page.dataset.controls = key;
  const isFirst = status === "ready";
  const isRunning = status === "running" || status === "lead";
  const isAway = away !== undefined;
  const main = isRunning ? "play.pause" : isFirst ? "play.start" : isAway ? "run.go_on" : "play.go_on";
  fillSlots(page, {
    main: words.say(main),
    back: words.say(isAway ? "run.restart" : "play.back"),
    stop: words.say(isFirst ? "play.leave" : isAway ? "run.finish" : "play.stop"),
  });
  if (isRunning) page.querySelector('[data-part="ready"]')?.remove();
}

/**
 * @param {HTMLElement} page
 * @param {SessionDriver} driver
 * @param {SessionSpeaker} speaker
 * @param {import("../main.js").Edges} edges
 * @param {import("../pure/session/run.js").Plan|null} base today's plan as offered, where none was begun
 * @param {AbortSignal} signal
 */
export function listen(page, driver, speaker, edges, base, signal) {
  const pause = () => {
    driver.do("pause");
    edges.voice.hush();
  };
  listenToTouch(
    page,
    driver,
    () => (driver.session.status === "running" ? pause() : begin(page, driver, speaker, base)),
    signal,
  );
  listenToStop(page, driver, edges, pause, signal);
  onAct(page, "skip", () => driver.do("skip"), signal);
  const restart = () => {
    driver.do("skip", driver.moment().step);
    begin(page, driver, speaker);
  };
  onAct(page, "back", () => (page.dataset.away === undefined ? driver.do("back") : restart()), signal);
  onAct(page, "sound", () => driver.bringSoundBack(), signal);
  onAct(page, "sharp", () => void driver.end("sharp"), signal);
}

/**
 * The main button, the picture and the space bar.
 * @param {HTMLElement} page @param {SessionDriver} driver @param {() => void} turn starts, pauses or goes on
 * @param {AbortSignal} signal
 */
function listenToTouch(page, driver, turn, signal) {
  const touch = () => (isAtRep(driver) ? driver.do("rep") : turn());
  onAct(page, "main", turn, signal);
  onAct(page, "rep", () => driver.do("rep"), signal);
  // A tap must not take the focus: the space bar stays free for the next rep.
  find(page, '[data-act="rep"]').addEventListener("mousedown", (event) => event.preventDefault(), { signal });
  find(page, "[data-picture]").addEventListener("click", () => isFree(page) && touch(), { signal });
  const press = (/** @type {KeyboardEvent} */ event) => {
    const isOurs = isFreeSpace(event, page);
    if (isOurs || (event.repeat && event.key === "Enter")) event.preventDefault();
    if (isOurs && !event.repeat) touch();
  };
  addEventListener("keydown", press, { signal });
}

/**
 * The stop, and the question why. Before the start a stop only leaves the page.
 * @param {HTMLElement} page @param {SessionDriver} driver @param {import("../main.js").Edges} edges @param {() => void} pause
 * @param {AbortSignal} signal
 */
function listenToStop(page, driver, edges, pause, signal) {
  const stop = () => {
    if (driver.session.status === "ready") return edges.go("#day");
    pause();
    ask(page, "why");
  };
  onAct(page, "stop", stop, signal);
  for (const stay of page.querySelectorAll('[data-act="stay"]')) {
    stay.addEventListener("click", () => ask(page, ""), { signal });
  }
  for (const reason of page.querySelectorAll("[data-why]")) {
    const end = () => void driver.end("stopped", reason.getAttribute("data-why") ?? "");
    reason.addEventListener("click", end, { signal });
  }
}

/**
 * Starts or resumes the session, unless it has ended. Must be called inside a tap. Where reps are tapped, the focus moves off the
 * buttons, so that the space bar counts reps.
 * @param {HTMLElement} page @param {SessionDriver} driver @param {SessionSpeaker} speaker
 * @param {import("../pure/session/run.js").Plan|null} [base] the plan that was offered when the page was drawn; it may have changed since
 */
export function begin(page, driver, speaker, base = null) {
  const { edges } = speaker;
  if (driver.session.status === "ended") return;
  if (driver.steps.some(({ isGated }) => isGated)) find(page, "h1").focus();
  speaker.wake();
  if (driver.session.status !== "ready") return driver.run.on === edges.clock.today() ? driver.go() : edges.go("#day");
  edges.tones.wake();
  edges.wakeLock.take();
  const start = (/** @type {import("../pure/session/run.js").Plan|null} */ plan) => {
    if (offerOf(null, plan) !== offerOf(null, base)) return edges.go("#day", "changed");
    if (driver.session.status === "ready") go(driver, speaker);
  };
  void edges.store.todayPlan().then(start, () => edges.go("#day", "unread"));
}

/** Starts the session. It uses up the ways that were chosen for one session only. @param {SessionDriver} driver @param {SessionSpeaker} speaker */
export function go(driver, { ways, edges }) {
  if (driver.session.status === "ready" && ways.on) void edges.store.setMeta("ways", { ...ways, on: "" });
  driver.go();
}

/** @param {SessionDriver} driver @returns {boolean} whether the session waits for a tap after each rep */
const isAtRep = (driver) => driver.session.status === "running" && Boolean(driver.steps[driver.moment().step].isGated);

/** @param {HTMLElement} page @returns {boolean} whether the session itself is shown: it has started, and no question replaces it */
const isFree = ({ dataset }) => !dataset.asks && dataset.status !== "ready";

/** @param {KeyboardEvent} event @param {HTMLElement} page @returns {boolean} whether the space bar was pressed and no control has the focus */
function isFreeSpace({ key, target }, page) {
  return key === " " && target instanceof Element && !target.closest(CONTROLS) && isFree(page);
}

/** @param {HTMLElement} page @param {"why"|"ease"|""} question shown in place of the session; "" shows the session again */
export function ask(page, question) {
  if (question) page.dataset.asks = question;
  else delete page.dataset.asks;
  for (const part of ["why", "ease"]) find(page, `[data-part="${part}"]`).hidden = part !== question;
  find(page, question ? `[data-part="${question}"] [tabindex="-1"]` : '[data-act="main"]').focus();
}
