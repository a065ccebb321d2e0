/**
 * The timed session. The tap on the day page starts it, or the one on its own page before the start; nobody need touch the
 * phone from there until its end.
 */

import { fillSlots, onAct, one, piece } from "../parts/pieces.js";
import { eased, workFrom } from "../pure/session/easing.js";
import { SessionDriver } from "./driver.js";
import { askEase, hearEase } from "./ease.js";
import { SessionNotes } from "./notes.js";
import { letGo, offerOf } from "./one_tap.js";
import { HASH_OF_END, openSession } from "./opening.js";
import { drawReady } from "./ready.js";
import { SessionSpeaker } from "./speaker.js";
import { worded } from "./step_words.js";
import { SessionView } from "./view.js";

const CONTROLS = ":is(button,input,summary,a)";
const STILL = "(prefers-reduced-motion: reduce)";

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @param {import("./one_tap.js").Press|null} [press] the tap that starts it; without one it waits for its own
 * @returns {() => void} stop
 */
export function start(root, edges, press = null) {
  const over = new AbortController();
  /** @type {SessionDriver|null} */
  let driver = null;
  over.signal.addEventListener("abort", () => (driver ? driver.stop() : letGo(edges)));
  const begun = (/** @type {import("./opening.js").Opened|null|void} */ opened) => {
    if (opened && !over.signal.aborted) driver = play(root, edges, opened, over.signal);
  };
  openSession(edges, press, over.signal).then(begun, () => edges.go("#day", "unread"));
  return () => over.abort();
}

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @param {import("./opening.js").Opened} opened
 * @param {AbortSignal} signal
 * @returns {SessionDriver}
 */
function play(root, edges, opened, signal) {
  const { words } = edges;
  const { run, session, bundle } = opened;
  root.replaceChildren(piece("session", "screen"));
  const page = one(root, ".session");
  const speaker = new SessionSpeaker(edges, opened.ways);
  const view = new SessionView(page, words, run.plan, bundle?.movements ?? {}, matchMedia(STILL).matches);
  const notes = new SessionNotes(page, edges);
  signal.addEventListener("abort", () => notes.stop());
  const driver = new SessionDriver(edges, run, session, {
    isStill: view.isStill,
    step: (index) => view.step(index),
    moment: (moment, now, leadMs) => view.moment(moment, now, leadMs),
    notes: (now) => {
      notes.show(now);
      page.toggleAttribute("data-away", now.away > 0);
      showControls(page, words);
    },
    notice: (what, index, rep) => {
      const text = speaker.tell(what, driver.steps[index], rep);
      if (what !== "count" && what !== "first") view.caption(text, driver.moment());
    },
    felt: (tone) => speaker.feel(tone),
    over: (ended) => edges.go(HASH_OF_END[ended.ended], ended),
    taken: () => edges.go("#day", "taken"),
  });
  const replan = (/** @type {import("../pure/session/run.js").Run} */ next) => {
    view.replan(next.plan);
    driver.replan(next);
  };
  if (opened.isPressed) skipReady(page, opened.ways);
  else drawReady(page, edges, opened, speaker, replan, signal);
  listen(page, driver, speaker, edges, opened.base, signal);
  listenToEase(page, edges, driver, speaker, bundle, replan, signal);
  one(page, "h1").focus();
  if (opened.isPressed) go(driver, speaker);
  return driver;
}

/** The page looks as if it ran from its first sight on. @param {HTMLElement} page @param {import("../pure/session/ways.js").Ways} ways */
function skipReady(page, { hand }) {
  one(page, '[data-part="ready"]').remove();
  Object.assign(page.dataset, { hand, status: "running" });
}

/**
 * After an absence they offer what the day page offers for a session that was left.
 * @param {HTMLElement} page
 * @param {import("../edges/screen/words.js").Words} words
 */
function showControls(page, words) {
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
function listen(page, driver, speaker, edges, base, signal) {
  const pause = () => {
    driver.do("pause");
    edges.voice.hush();
  };
  const turn = () => (driver.session.status === "running" ? pause() : begin(page, driver, speaker, base));
  const touch = () => (isAtRep(driver) ? driver.do("rep") : turn());
  onAct(page, "main", turn, signal);
  onAct(page, "rep", () => driver.do("rep"), signal);
  // A tap must not take the focus: the space bar stays free for the next rep.
  one(page, '[data-act="rep"]').addEventListener("mousedown", (event) => event.preventDefault(), { signal });
  one(page, "[data-picture]").addEventListener("click", () => isFree(page) && touch(), { signal });
  const press = (/** @type {KeyboardEvent} */ event) => {
    const isOurs = isFreeSpace(event, page);
    if (isOurs || (event.repeat && event.key === "Enter")) event.preventDefault();
    if (isOurs && !event.repeat) touch();
  };
  addEventListener("keydown", press, { signal });
  onAct(page, "skip", () => driver.do("skip"), signal);
  const restart = () => {
    driver.do("skip", driver.moment().step);
    begin(page, driver, speaker);
  };
  onAct(page, "back", () => (page.dataset.away === undefined ? driver.do("back") : restart()), signal);
  onAct(page, "sound", () => driver.bringSoundBack(), signal);
  onAct(page, "sharp", () => void driver.end("sharp"), signal);
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
    reason.addEventListener("click", () => void driver.end("stopped", reason.getAttribute("data-why") ?? ""), {
      signal,
    });
  }
}

/**
 * Starts or goes on, unless all is over. Must be called inside a tap. At one's own pace the space bar must be free for the reps.
 * @param {HTMLElement} page @param {SessionDriver} driver @param {SessionSpeaker} speaker
 * @param {import("../pure/session/run.js").Plan|null} [base] what was offered when the page was drawn; it may have changed since
 */
function begin(page, driver, speaker, base = null) {
  const { edges } = speaker;
  if (driver.session.status === "ended") return;
  if (driver.steps.some(({ isGated }) => isGated)) one(page, "h1").focus();
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

/** What was chosen for one session is used up by its start. @param {SessionDriver} driver @param {SessionSpeaker} speaker */
function go(driver, { ways, edges }) {
  if (driver.session.status === "ready" && ways.on) void edges.store.setMeta("ways", { ...ways, on: "" });
  driver.go();
}

/** @param {SessionDriver} driver @returns {boolean} whether a rep waits to be said done */
const isAtRep = (driver) => driver.session.status === "running" && Boolean(driver.steps[driver.moment().step].isGated);

/** @param {HTMLElement} page @returns {boolean} whether the session itself is shown, nothing before it or in its place */
const isFree = ({ dataset }) => !dataset.asks && dataset.status !== "ready";

/** @param {KeyboardEvent} event @param {HTMLElement} page @returns {boolean} whether the space bar is for no control */
function isFreeSpace({ key, target }, page) {
  return key === " " && target instanceof Element && !target.closest(CONTROLS) && isFree(page);
}

/**
 * @param {HTMLElement} page
 * @param {import("../main.js").Edges} edges
 * @param {SessionDriver} driver
 * @param {SessionSpeaker} speaker
 * @param {import("../wire.js").Bundle} bundle
 * @param {(run: import("../pure/session/run.js").Run) => void} replan
 * @param {AbortSignal} signal
 */
function listenToEase(page, { words, voice }, driver, speaker, bundle, replan, signal) {
  const open = () => {
    driver.do("pause");
    voice.hush();
    askEase(page, words, bundle, driver.run.plan, driver.moment().step);
    ask(page, "ease");
  };
  onAct(page, "ease", open, signal);
  const ease = (/** @type {import("../pure/session/easing.js").What} */ what) => {
    const { step, rep } = driver.moment();
    const { plan, eased: before = [] } = driver.run;
    const target = workFrom(plan.steps, step);
    const entry = { step: target, what, movement: plan.steps[target].movement ?? "" };
    const run = { ...driver.run, eased: [...before, entry] };
    if (what === "form" || what === "leave") driver.run = run;
    else replan({ ...run, plan: worded(words, eased(bundle, plan, step, what, rep), bundle.movements) });
    if (what === "leave") driver.do("skip", target + 1);
    ask(page, "");
    begin(page, driver, speaker);
  };
  hearEase(page, ease, signal);
}

/** @param {HTMLElement} page @param {"why"|"ease"|""} what is asked in the place of the session */
function ask(page, what) {
  if (what) page.dataset.asks = what;
  else delete page.dataset.asks;
  for (const part of ["why", "ease"]) one(page, `[data-part="${part}"]`).hidden = part !== what;
  one(page, what ? `[data-part="${what}"] [tabindex="-1"]` : '[data-act="main"]').focus();
}
