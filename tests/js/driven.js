/**
 * A session driver on a clock that the test moves. Fakes surround the driver and record what it asked for.
 * Time passes only when a test says so. The fakes replace the page's globals, so a test uses one driver at a time.
 */

import { newSession } from "../../pwa_assets/js/pure/session/player.js";
import { newRun, TakenError } from "../../pwa_assets/js/pure/session/run.js";
import { SessionDriver } from "../../pwa_assets/js/session/driver.js";
import { planWith } from "./builders.js";

const START = { mono: 1000, wall: 1_772_474_400_000 };
const nothing = () => undefined;
const listened = () => () => undefined;

const ARMS = [{ arm: "right", dose: { sessions: 1, sets: [] }, sheet: [] }];

/** Lets all pending promises run. */
const settle = () => new Promise((done) => setImmediate(done));

class Time {
  at = { ...START };
  /** @type {{due: number, act: () => void}[]} */
  #timers = [];

  /** @param {() => void} act @param {number} ms */
  after(act, ms) {
    const timer = { due: this.at.mono + Math.max(0, ms), act };
    this.#timers.push(timer);
    return timer;
  }

  /** @param {any} timer */
  drop(timer) {
    this.#timers = this.#timers.filter((each) => each !== timer);
  }

  /** @param {number} ms during which timers fire, each at its instant */
  async pass(ms) {
    const until = this.at.mono + ms;
    for (;;) {
      const [next] = this.#timers.filter(({ due }) => due <= until).sort((first, second) => first.due - second.due);
      this.#move(Math.max(0, (next?.due ?? until) - this.at.mono));
      if (!next) break;
      this.drop(next);
      next.act();
      await settle();
    }
    await settle();
  }

  /** @param {number} ms during which nothing fires, as on a phone that sleeps */
  async sleep(ms) {
    this.#move(ms);
    await this.pass(0);
  }

  /** @param {number} ms */
  #move(ms) {
    this.at = { mono: this.at.mono + ms, wall: this.at.wall + ms };
  }
}

/** @param {Time} time */
function standInForThePage(time) {
  const page = Object.assign(new EventTarget(), { hidden: false });
  const frame = new EventTarget();
  Object.assign(globalThis, {
    document: page,
    addEventListener: frame.addEventListener.bind(frame),
    requestAnimationFrame: () => 0,
    cancelAnimationFrame: nothing,
    setTimeout: time.after.bind(time),
    clearTimeout: time.drop.bind(time),
  });
  return page;
}

/** What is scheduled, spoken, stored and shown now. `store`: answers at once, fails, waits for the test, or holds another window's run. */
class Seen {
  /** @type {{cues: any[], fromMs: number}|null} */
  laid = null;
  isGivenBack = false;
  isSpeaking = false;
  isAwake = false;
  /** @type {"well"|"fails"|"waits"|"taken"} */
  store = "well";
  /** @type {any} */
  kept = null;
  /** @type {number[]} */
  steps = [];
  /** @type {any} */
  moment = null;
  leadMs = 0;
  /** @type {any} */
  notes = null;
  /** @type {any[]} */
  over = [];
  isTaken = false;
  halted = 0;
  /** What the phone knows of today. @type {any} */
  today = { days: [], start: { waitsFor: "nothing" }, course: { to: "training" } };
  /** Called where an entry has come. */
  /** @type {() => void} */
  changed = nothing;
  /** @type {(() => void)[]} */
  waiting = [];
}

/** @param {Seen} seen */
function storeOf(seen) {
  const saveRun = async (/** @type {any} */ run) => {
    if (seen.store === "waits") await new Promise((done) => seen.waiting.push(() => done(null)));
    if (seen.store === "fails") throw new Error("no room");
    if (seen.store === "taken") throw new TakenError();
    seen.kept = structuredClone(run);
  };
  return {
    saveRun,
    saveRunAtLast: saveRun,
    ownsRun: async () => seen.store !== "taken",
    snapshot: async () => seen.today,
    onChange: (/** @type {() => void} */ hear) => {
      seen.changed = hear;
      return nothing;
    },
  };
}

/** @param {Seen} seen */
function tonesOf(seen) {
  return {
    wake: () => Object.assign(seen, { isGivenBack: false }),
    plan: (/** @type {any[]} */ cues, /** @type {number} */ fromMs) => Object.assign(seen, { laid: { cues, fromMs } }),
    hush: () => Object.assign(seen, { laid: null }),
    finish: () => Object.assign(seen, { isGivenBack: true }),
    follow: nothing,
    revive: nothing,
    isLost: () => false,
    onChange: listened,
  };
}

/** @param {Time} time @param {Seen} seen @returns {any} */
function edgesOf(time, seen) {
  const after = (/** @type {number} */ ms, /** @type {() => void} */ act) => {
    const timer = time.after(act, ms);
    return () => time.drop(timer);
  };
  return {
    clock: { now: () => time.at.wall, mono: () => time.at.mono, after },
    store: storeOf(seen),
    tones: tonesOf(seen),
    wakeLock: {
      take: () => Object.assign(seen, { isAwake: true }),
      drop: () => Object.assign(seen, { isAwake: false }),
      isHeld: () => seen.isAwake,
      onChange: listened,
    },
    voice: { hush: () => Object.assign(seen, { isSpeaking: false }) },
  };
}

/** @param {Seen} seen @returns {any} */
function viewOf(seen) {
  return {
    isStill: true,
    step: (/** @type {number} */ index) => seen.steps.push(index),
    moment: (/** @type {any} */ moment, /** @type {any} */ _, /** @type {number} */ leadMs) =>
      Object.assign(seen, { moment, leadMs }),
    notes: (/** @type {any} */ notes) => Object.assign(seen, { notes }),
    over: (/** @type {any} */ run) => seen.over.push(run),
    taken: () => Object.assign(seen, { isTaken: true }),
    halted: () => Object.assign(seen, { halted: seen.halted + 1 }),
    felt: nothing,
    announce: nothing,
  };
}

/**
 * A driver before its start.
 * @param {import("./builders.js").Step[]} steps
 */
export async function driven(steps) {
  const [time, seen] = [new Time(), new Seen()];
  const page = standInForThePage(time);
  const driver = new SessionDriver(
    edgesOf(time, seen),
    newRun(planWith(steps, ARMS), "run-1"),
    newSession(),
    viewOf(seen),
  );
  await settle();
  return {
    driver,
    seen,
    pass: time.pass.bind(time),
    sleep: time.sleep.bind(time),
    /** Acts as a tap does, and lets all pending promises run. @param {() => unknown} act */
    async tap(act) {
      act();
      await settle();
    },
    /** @param {boolean} hidden */
    async turn(hidden) {
      page.hidden = hidden;
      page.dispatchEvent(new Event("visibilitychange"));
      await settle();
    },
    async answer() {
      seen.store = "well";
      for (const done of seen.waiting.splice(0)) done();
      await settle();
    },
  };
}
