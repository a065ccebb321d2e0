/**
 * The page of the timed session. A tap on the day page starts the session, or a tap on this page. From then on nobody needs to
 * touch the phone until the end.
 */

import { find, onAct, piece } from "../parts/pieces.js";
import { eased, workFrom } from "../pure/session/easing.js";
import { ask, begin, go, listen, showControls } from "./controls.js";
import { SessionDriver } from "./driver.js";
import { askEase, hearEase } from "./ease.js";
import { SessionNotes } from "./notes.js";
import { letGo } from "./one_tap.js";
import { HASH_OF_END, openSession } from "./opening.js";
import { drawReady } from "./ready.js";
import { SessionSpeaker } from "./speaker.js";
import { worded } from "./step_words.js";
import { SessionView } from "./view.js";

const STILL = "(prefers-reduced-motion: reduce)";

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @param {import("./one_tap.js").Press|null} [press] the tap that starts the session; without it the page waits for a tap
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
  const page = find(root, ".session");
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
    announce: (kind, index, rep) => {
      const text = speaker.tell(kind, driver.steps[index], rep);
      if (kind !== "count" && kind !== "first") view.caption(text, driver.moment());
    },
    felt: (tone) => speaker.feel(tone),
    over: (ended) => edges.go(HASH_OF_END[ended.ended], ended),
    taken: () => signal.aborted || edges.go("#day", "taken"),
    halted: () => signal.aborted || edges.go("#day", "halted"),
  });
  const replan = (/** @type {import("../pure/session/run.js").Run} */ next) => {
    view.replan(next.plan);
    driver.replan(next);
  };
  if (opened.isPressed) skipReady(page, opened.ways);
  else drawReady(page, edges, opened, speaker, replan, signal);
  listen(page, driver, speaker, edges, opened.base, signal);
  listenToEase(page, edges, driver, speaker, bundle, replan, signal);
  find(page, "h1").focus();
  if (opened.isPressed) go(driver, speaker);
  return driver;
}

/** Shows the page as running from its first drawing on. @param {HTMLElement} page @param {import("../pure/session/ways.js").Ways} ways */
function skipReady(page, { hand }) {
  find(page, '[data-part="ready"]').remove();
  Object.assign(page.dataset, { hand, status: "running" });
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
  const ease = (/** @type {import("../pure/session/easing.js").Easing} */ easing) => {
    const { step, rep } = driver.moment();
    const { plan, eased: before = [] } = driver.run;
    const target = workFrom(plan.steps, step);
    const entry = { step: target, what: easing, movement: plan.steps[target].movement ?? "" };
    const run = { ...driver.run, eased: [...before, entry] };
    if (easing === "form" || easing === "leave") driver.run = run;
    else replan({ ...run, plan: worded(words, eased(bundle, plan, step, easing, rep), bundle.movements) });
    if (easing === "leave") driver.do("skip", target + 1);
    ask(page, "");
    begin(page, driver, speaker);
  };
  hearEase(page, ease, signal);
}
