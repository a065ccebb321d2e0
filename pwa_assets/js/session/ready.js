/**
 * The session's page before the start: a sentence, the sound check, and the ways to do the session.
 *
 * @typedef {import("../pure/session/run.js").Run} Run
 * @typedef {import("../pure/session/ways.js").Ways} Ways
 */

import { fillSlots, find, keepFocus, onAct } from "../parts/pieces.js";
import { loggedWays, offeredBy, shaped } from "../pure/session/ways.js";
import { worded } from "./step_words.js";
import { drawWays, waysText } from "./ways.js";

/** The ways that change the steps; the others change only how they are presented. */
const SHAPING = ["arms", "part", "pace", ""];

/**
 * @param {import("../edges/screen/words.js").Words} words
 * @param {import("../wire.js").Bundle} bundle
 * @param {Run} run
 * @param {import("../pure/session/run.js").Plan} base today's plan as offered
 * @param {Ways} ways
 * @returns {Run} with the plan that follows from those ways
 */
export function planBy(words, bundle, run, base, ways) {
  return { ...run, ways: loggedWays(ways), plan: worded(words, shaped(bundle, base, ways), bundle.movements) };
}

/**
 * @param {HTMLElement} page
 * @param {import("../main.js").Edges} edges
 * @param {{run: Run, bundle: import("../wire.js").Bundle, base: import("../pure/session/run.js").Plan|null, ways: Ways, isHeard: boolean}} opened
 * @param {import("./speaker.js").SessionSpeaker} speaker
 * @param {(run: Run) => void} replan
 * @param {AbortSignal} signal
 */
export function drawReady(page, edges, { run, bundle, base, ways, isHeard }, speaker, replan, signal) {
  const { words, store } = edges;
  const tell = (/** @type {Ways} */ shown) => {
    page.dataset.hand = shown.hand;
    const ready = shown.pace === "own" ? "play.ready_own" : "play.ready";
    fillSlots(page, { ready: words.say(base ? ready : "play.ready_again"), ways: waysText(words, shown) });
  };
  const isBegun = base === null;
  const choose = (/** @type {Ways} */ chosen, /** @type {string} */ field) => {
    const next = { ...chosen, on: edges.clock.today() };
    speaker.ways = next;
    speaker.tune();
    tell(next);
    void store.setMeta("ways", next);
    if (base && SHAPING.includes(field)) replan(planBy(words, bundle, run, base, next));
  };
  drawWays(
    find(page, "[data-ways]"),
    edges,
    { ways, offered: offeredBy(bundle, base ?? run.plan), timing: bundle.timing ?? {}, isBegun },
    choose,
    signal,
  );
  tell(ways);
  speaker.tune();
  checkSound(page, edges, speaker, isHeard, signal);
}

/**
 * Shows the sound check openly until it has succeeded once on this phone; then among the ways.
 * @param {HTMLElement} page
 * @param {import("../main.js").Edges} edges
 * @param {import("./speaker.js").SessionSpeaker} speaker
 * @param {boolean} isHeard
 * @param {AbortSignal} signal
 */
export function checkSound(page, { words, tones, voice, store }, speaker, isHeard, signal) {
  const check = find(page, "[data-sound]");
  if (isHeard) find(page, "[data-ways]").append(check);
  const answers = find(check, "[data-heard]");
  const silent = find(check, "[data-silent]");
  const play = () => {
    speaker.wake();
    tones.sample("step");
    speaker.sample(words.say("sound.sentence"));
    fillSlots(check, { said: words.say("sound.sentence") });
    answers.hidden = false;
  };
  const answer = async (/** @type {boolean} */ isGood) => {
    await store.setMeta("soundHeard", isGood);
    silent.hidden = isGood;
    answers.hidden = isGood;
    keepFocus(check, '[data-act="sample"]');
    if (isGood) fillSlots(check, { said: words.say("sound.good") });
  };
  onAct(check, "sample", play, signal);
  onAct(check, "heard", () => void answer(true), signal);
  onAct(check, "unheard", () => void answer(false), signal);
  const voiceless = find(check, "[data-voiceless]");
  const look = () => {
    voiceless.hidden = voice.isReady();
  };
  look();
  signal.addEventListener("abort", voice.onFound(look));
}
