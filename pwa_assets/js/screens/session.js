/**
 * The timed session: one press starts it, and nobody need touch the phone until its end.
 */

import { fillSlots, onAct, one, piece } from "../parts/pieces.js";
import { SessionDriver } from "../parts/session_driver.js";
import { SessionView } from "../parts/session_view.js";
import { newSession } from "../pure/player.js";
import { newRun, sessionOf } from "../pure/run.js";
import { uuid7 } from "../pure/uuid7.js";

const VOLUME = "toneVolume";
const STILL = "(prefers-reduced-motion: reduce)";
const HASH_OF_END = /** @type {Record<string, string>} */ ({
  sharp: "#sharp",
  completed: "#after",
  stopped: "#after",
});

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
 */
async function open({ store, clock, go }, signal) {
  const [kept, bundle, volume] = await Promise.all([store.loadRun(), store.bundle(), store.getMeta(VOLUME)]);
  const plan = kept?.plan ?? (await store.todayPlan());
  if (signal.aborted) return null;
  if (!plan || kept?.ended) return void go(HASH_OF_END[kept?.ended] ?? "#day");
  const how = new URLSearchParams(location.hash.split("?")[1]).get("resume") === "restart" ? "restart" : "step";
  const run = kept ?? newRun(plan, uuid7(clock.now(), crypto.getRandomValues(new Uint8Array(10))));
  const session = kept ? sessionOf(kept, how, clock.now()) : newSession();
  return { run, session, movements: bundle?.movements ?? {}, volume };
}

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @param {{run: import("../pure/run.js").Run, session: import("../pure/player.js").Session, movements: any, volume: any}} opened
 * @param {AbortSignal} signal
 * @returns {SessionDriver}
 */
function play(root, edges, { run, session, movements, volume }, signal) {
  const { words, go } = edges;
  root.replaceChildren(piece("session", "screen"));
  const page = one(root, ".session");
  const view = new SessionView(page, words, run.plan, movements, matchMedia(STILL).matches);
  const driver = new SessionDriver(edges, run, session, {
    isStill: view.isStill,
    step: (index) => view.step(index),
    moment: (moment, now, leadMs) => {
      view.moment(moment, now, leadMs);
      showControls(page, words, now.status, leadMs);
    },
    notes: (notes) => view.notes(notes),
    notice: (what, index) => edges.announce(view.noticeText(what, index)),
    over: (ended) => go(HASH_OF_END[ended.ended]),
  });
  fillSlots(page, {
    ready: words.say(session.status === "ready" ? "play.ready" : "play.ready_again"),
  });
  listen(page, driver, edges, signal);
  hearVolume(page, edges, volume, signal);
  one(page, "h1").focus();
  if (edges.tones.isAwake()) driver.go();
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
 * @param {import("../main.js").Edges} edges
 * @param {AbortSignal} signal
 */
function listen(page, driver, edges, signal) {
  const turn = () => (driver.session.status === "running" ? driver.do("pause") : driver.go());
  onAct(page, "main", turn, signal);
  one(page, "[data-picture]").addEventListener("click", () => driver.session.status === "ready" || turn(), { signal });
  onAct(page, "skip", () => driver.do("skip"), signal);
  onAct(page, "back", () => driver.do("back"), signal);
  onAct(page, "sound", () => driver.bringSoundBack(), signal);
  onAct(page, "sharp", () => void driver.end("sharp"), signal);
  onAct(
    page,
    "stop",
    () => {
      if (driver.session.status === "ready") return edges.go("#day");
      driver.do("pause");
      askWhy(page, true);
    },
    signal,
  );
  onAct(page, "stay", () => askWhy(page, false), signal);
  for (const reason of page.querySelectorAll("[data-why]")) {
    reason.addEventListener("click", () => void driver.end("stopped", reason.getAttribute("data-why") ?? ""), {
      signal,
    });
  }
}

/** @param {HTMLElement} page @param {boolean} isAsked */
function askWhy(page, isAsked) {
  page.toggleAttribute("data-asks", isAsked);
  one(page, '[data-part="why"]').hidden = !isAsked;
  one(page, isAsked ? '[data-part="why"] legend' : '[data-act="main"]').focus();
}

/**
 * @param {HTMLElement} page
 * @param {import("../main.js").Edges} edges
 * @param {unknown} kept
 * @param {AbortSignal} signal
 */
function hearVolume(page, { tones, store }, kept, signal) {
  const slider = /** @type {HTMLInputElement} */ (one(page, "[data-volume]"));
  if (typeof kept === "number") tones.setVolume(kept);
  slider.value = String(Math.round(tones.volume() * 100));
  slider.addEventListener("input", () => tones.setVolume(Number(slider.value) / 100), { signal });
  slider.addEventListener("change", () => void store.setMeta(VOLUME, tones.volume()), { signal });
  onAct(page, "sample", () => tones.sample("step"), signal);
}
