import assert from "node:assert/strict";
import { test } from "node:test";
import { SessionLooking } from "../../../pwa_assets/js/session/looking.js";

const SCREEN_HZ = 60;

/**
 * A page whose timers and frames the test runs: the times of the looks in the first second, and how many frames were asked for.
 * @param {(looking: SessionLooking) => void} again how to look again
 */
function lookedAt(again) {
  /** @type {{due: number, act: () => void}[]} */
  let timers = [];
  /** @type {(() => void)[]} */
  let waiting = [];
  let [now, frames] = [0, 0];
  Object.assign(globalThis, {
    setTimeout: (/** @type {() => void} */ act, /** @type {number} */ ms) => {
      const timer = { due: now + ms, act };
      timers.push(timer);
      return timer;
    },
    clearTimeout: (/** @type {any} */ timer) => {
      timers = timers.filter((each) => each !== timer);
    },
    requestAnimationFrame: (/** @type {() => void} */ act) => {
      waiting = [act];
      return ++frames;
    },
    cancelAnimationFrame: () => {
      waiting = [];
    },
  });
  /** @type {number[]} */
  const looks = [];
  const looking = new SessionLooking(() => {
    looks.push(now);
    again(looking);
  });
  again(looking);
  for (let tick = 1; tick <= 1000; tick++) {
    now = tick;
    for (const { act } of timers.filter(({ due }) => due === tick)) act();
    timers = timers.filter(({ due }) => due > tick);
    if (Math.floor((tick * SCREEN_HZ) / 1000) === Math.floor(((tick - 1) * SCREEN_HZ) / 1000)) continue;
    for (const act of waiting.splice(0)) act();
  }
  return { looks, frames };
}

test("what moves is drawn thirty times a second at most, and no frame is asked for that is not drawn", () => {
  const { looks, frames } = lookedAt((looking) => looking.again(Number.POSITIVE_INFINITY, true));
  assert.ok(looks.length >= 25 && looks.length <= 30, `${looks.length}`);
  assert.ok(frames - looks.length <= 1);
});

test("what is due soon is looked at on time, however seldom the hand is drawn", () => {
  const { looks } = lookedAt((looking) => looking.again(7, true));
  assert.deepEqual(looks.slice(0, 4), [7, 14, 21, 28]);
});

test("while nothing moves there are no frames, and two looks a second", () => {
  const { looks, frames } = lookedAt((looking) => looking.again(Number.POSITIVE_INFINITY, false));
  assert.deepEqual([looks.length, frames], [2, 0]);
});
