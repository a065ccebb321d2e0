/**
 * The timed session: one press starts it, and nobody need touch the phone until its end.
 */

import { fillSlots, onAct, one, piece } from "../parts/pieces.js";
import { SessionDriver } from "../parts/session_driver.js";
import { askEase, hearEase } from "../parts/session_ease.js";
import { drawReady, planBy } from "../parts/session_ready.js";
import { SessionSpeaker } from "../parts/session_speaker.js";
import { SessionView } from "../parts/session_view.js";
import { worded } from "../parts/step_words.js";
import { eased, workFrom } from "../pure/easing.js";
import { newSession } from "../pure/player.js";
import { newRun, sessionOf } from "../pure/run.js";
import { uuid7 } from "../pure/uuid7.js";
import { waysFrom } from "../pure/ways.js";

const CONTROLS = ":is(button,input,summary,a)";
const STILL = "(prefers-reduced-motion: reduce)";
const HASH_OF_END = /** @type {Record<string, string>} */ ({
  sharp: "#sharp",
  completed: "#after",
  stopped: "#after",
});

/**
 * @typedef {{run: import("../pure/run.js").Run, session: import("../pure/player.js").Session, bundle: any,
 *   base: import("../pure/run.js").Plan|null, ways: import("../pure/ways.js").Ways, isHeard: boolean, isBegun: boolean}} Opened
 *   base: today's plan as offered, where none was begun; isHeard: the sound has been checked on this phone;
 *   isBegun: a press on the page before has started it already
 */

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @returns {() => void} stop
 */
export function start(root, edges) {
  const over = new AbortController();
  /** @type {SessionDriver|null} */
  let driver = null;
  over.signal.addEventListener("abort", () => driver?.stop());
  void open(edges, over.signal).then((opened) => {
    if (opened && !over.signal.aborted) driver = play(root, edges, opened, over.signal);
  });
  return () => over.abort();
}

/**
 * The run to play: the one that was left, or a new one of today's plan. Elsewhere if there is none.
 * @param {import("../main.js").Edges} edges
 * @param {AbortSignal} signal
 * @returns {Promise<Opened|null|void>}
 */
async function open({ store, clock, go, words, voice, takePress }, signal) {
  const isPressed = takePress();
  const reads = /** @type {const} */ ([
    store.loadRun(),
    store.bundle(),
    store.getMeta("ways"),
    store.getMeta("soundHeard"),
  ]);
  const [kept, bundle, chosen, isHeard] = await Promise.all(reads);
  const plan = kept?.plan ?? (await store.todayPlan());
  if (signal.aborted) return null;
  if (!plan || kept?.ended) return go(HASH_OF_END[kept?.ended] ?? "#day");
  voice.find();
  const ways = waysFrom(chosen);
  const how = new URLSearchParams(location.hash.split("?")[1]).get("resume") === "restart" ? "restart" : "step";
  const fresh = () => newRun(plan, uuid7(clock.now(), crypto.getRandomValues(new Uint8Array(10))));
  const run = kept ?? planBy(words, bundle, fresh(), plan, ways);
  const isBegun = isPressed && Boolean(kept || isHeard);
  const session = kept ? sessionOf(kept, how, clock.now()) : newSession();
  return { run, session, bundle, base: kept ? null : plan, ways, isHeard: Boolean(isHeard), isBegun };
}

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @param {Opened} opened
 * @param {AbortSignal} signal
 * @returns {SessionDriver}
 */
function play(root, edges, opened, signal) {
  const { words, go } = edges;
  const { run, session, bundle } = opened;
  root.replaceChildren(piece("session", "screen"));
  const page = one(root, ".session");
  const speaker = new SessionSpeaker(edges, opened.ways);
  const view = new SessionView(page, words, run.plan, bundle?.movements ?? {}, matchMedia(STILL).matches);
  const driver = new SessionDriver(edges, run, session, {
    isStill: view.isStill,
    step: (index) => view.step(index),
    moment: (moment, now, leadMs) => {
      view.moment(moment, now, leadMs);
      showControls(page, words, now.status, leadMs);
    },
    notes: (notes) => view.notes(notes),
    notice: (what, index, rep) => {
      const text = speaker.tell(what, driver.steps[index], rep);
      if (what !== "count") view.caption(text, driver.moment());
    },
    felt: (tone) => speaker.feel(tone),
    over: (ended) => go(HASH_OF_END[ended.ended]),
  });
  const replan = (/** @type {import("../pure/run.js").Run} */ next) => {
    view.replan(next.plan);
    driver.replan(next);
  };
  drawReady(page, edges, opened, speaker, replan, signal);
  listen(page, driver, speaker, edges, signal);
  listenToEase(page, edges, driver, speaker, bundle, replan, signal);
  one(page, "h1").focus();
  if (opened.isBegun) begin(page, driver, speaker);
  return driver;
}

/**
 * @param {HTMLElement} page
 * @param {import("../edges/words.js").Words} words
 * @param {string} status
 * @param {number} leadMs
 */
function showControls(page, words, status, leadMs) {
  const key = `${status}${leadMs ? 1 : 0}`;
  if (page.dataset.controls === key) return;
  page.dataset.controls = key;
  const isFirst = status === "ready";
  const main = status === "running" ? "play.pause" : isFirst ? "play.start" : "play.go_on";
  fillSlots(page, {
    main: words.say(main),
    stop: words.say(isFirst ? "play.leave" : "play.stop"),
  });
  if (status === "running") page.querySelector('[data-part="ready"]')?.remove();
}

/**
 * @param {HTMLElement} page
 * @param {SessionDriver} driver
 * @param {SessionSpeaker} speaker
 * @param {import("../main.js").Edges} edges
 * @param {AbortSignal} signal
 */
function listen(page, driver, speaker, edges, signal) {
  const pause = () => {
    driver.do("pause");
    edges.voice.hush();
  };
  const turn = () => (driver.session.status === "running" ? pause() : begin(page, driver, speaker));
  const touch = () => (isAtRep(driver) ? driver.do("rep") : turn());
  onAct(page, "main", turn, signal);
  onAct(page, "rep", () => driver.do("rep"), signal);
  one(page, "[data-picture]").addEventListener("click", () => driver.session.status === "ready" || touch(), { signal });
  const press = (/** @type {KeyboardEvent} */ event) => {
    if (!isFreeSpace(event, page)) return;
    event.preventDefault();
    touch();
  };
  addEventListener("keydown", press, { signal });
  onAct(page, "skip", () => driver.do("skip"), signal);
  onAct(page, "back", () => driver.do("back"), signal);
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
 * Starts or goes on. Must be called inside a tap. At one's own pace the space bar must be free for the reps.
 * @param {HTMLElement} page @param {SessionDriver} driver @param {SessionSpeaker} speaker
 */
function begin(page, driver, speaker) {
  if (driver.steps.some(({ isGated }) => isGated)) one(page, "h1").focus();
  speaker.wake();
  driver.go();
}

/** @param {SessionDriver} driver @returns {boolean} whether a rep waits to be said done */
const isAtRep = (driver) => driver.session.status === "running" && Boolean(driver.steps[driver.moment().step].isGated);

/** @param {KeyboardEvent} event @param {HTMLElement} page @returns {boolean} whether the space bar is for no control */
function isFreeSpace(event, page) {
  const isFree = event.target instanceof Element && !event.target.closest(CONTROLS);
  return event.key === " " && isFree && !page.dataset.asks && page.dataset.status !== "ready";
}

/**
 * @param {HTMLElement} page
 * @param {import("../main.js").Edges} edges
 * @param {SessionDriver} driver
 * @param {SessionSpeaker} speaker
 * @param {any} bundle
 * @param {(run: import("../pure/run.js").Run) => void} replan
 * @param {AbortSignal} signal
 */
function listenToEase(page, { words, voice }, driver, speaker, bundle, replan, signal) {
  const open = () => {
    driver.do("pause");
    voice.hush();
    askEase(page, bundle, driver.run.plan, driver.moment().step);
    ask(page, "ease");
  };
  onAct(page, "ease", open, signal);
  const ease = (/** @type {import("../pure/easing.js").What} */ what) => {
    const { step, rep } = driver.moment();
    const { plan, eased: before = [] } = driver.run;
    const target = workFrom(plan.steps, step);
    const entry = { step: target, what, movement: plan.steps[target].movement ?? "" };
    const isPlanned = what === "form" || what === "leave";
    const next = isPlanned ? plan : worded(words, eased(bundle, plan, step, what, rep), bundle.movements);
    replan({ ...driver.run, plan: next, eased: [...before, entry] });
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
