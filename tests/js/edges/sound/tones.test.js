import assert from "node:assert/strict";
import { test } from "node:test";
import { createTones } from "../../../../pwa_assets/js/edges/sound/tones.js";
import { Hardware } from "../../hardware.js";

Object.defineProperty(globalThis, "navigator", { value: {}, configurable: true });

/** Cues whose tone has one note, so that each start belongs to one cue. @param {number} everyMs @param {number} count @returns {any[]} */
const cuesEvery = (everyMs, count) => Array.from({ length: count }, (_, i) => ({ atMs: i * everyMs, tone: "up" }));

/**
 * Plays cues with a look every 16 ms. A test says by how much the audio clock is ahead of the monotonic clock.
 * @param {any} tones @param {Hardware} hardware @param {number} fromMs @param {number} toMs @param {(ms: number) => number} aheadMs
 */
function play(tones, hardware, fromMs, toMs, aheadMs) {
  for (let ms = fromMs; ms <= toMs; ms += 16) {
    hardware.tell((ms + aheadMs(ms)) / 1000, ms);
    tones.follow(ms, ms);
  }
}

/** @param {any[]} cues @param {number} fromMs @param {(ms: number) => number} aheadMs */
function playing(cues, fromMs = 0, aheadMs = (/** @type {number} */ _) => 0) {
  const hardware = new Hardware();
  const tones = createTones(() => /** @type {any} */ (hardware));
  hardware.tell((fromMs + aheadMs(fromMs)) / 1000, fromMs);
  tones.wake();
  tones.plan(cues, fromMs, fromMs);
  return { hardware, tones };
}

/** @param {number[]} found @param {number[]} expected */
const near = (found, expected) => {
  assert.equal(found.length, expected.length);
  for (const [i, value] of found.entries())
    assert.ok(Math.abs(value - expected[i]) < 1e-6, `${value} for ${expected[i]}`);
};

test("each tone is asked for at its place on the sheet, by the clock of what is heard", () => {
  const { hardware, tones } = playing(cuesEvery(1000, 40), 0, () => 250);
  play(tones, hardware, 0, 39_000, () => 250);
  near(
    hardware.starts,
    cuesEvery(1000, 40).map(({ atMs }) => atMs / 1000 + 0.25),
  );
});

test("wrong reports at the start of the hardware move only the first tones", () => {
  const cold = (/** @type {number} */ ms) => (ms < 1500 ? 180 : 200);
  const { hardware, tones } = playing(cuesEvery(500, 20), 0, cold);
  play(tones, hardware, 0, 9500, cold);
  const apart = hardware.starts.map((at, i) => Math.round(at * 1000 - i * 500));
  assert.deepEqual(apart.slice(-14), Array(14).fill(200));
});

test("once the hardware has run for a while, tones lie many seconds ahead, and no more than sixteen", () => {
  const { hardware, tones } = playing(cuesEvery(1000, 60));
  play(tones, hardware, 0, 3000, () => 0);
  assert.ok(Math.max(...hardware.starts) > 12);
  assert.ok(Math.max(...hardware.starts) <= 19);
});

test("one wrong report of the hardware moves no tone", () => {
  const wild = (/** @type {number} */ ms) => (ms % 496 === 0 ? 60 : 0);
  const { hardware, tones } = playing(cuesEvery(1000, 60), 0, wild);
  play(tones, hardware, 0, 50_000, wild);
  near(
    hardware.starts.slice(3),
    hardware.starts.slice(3).map((_, i) => i + 3),
  );
});

test("if the audio clock slips, later tones follow it, and no scheduled tone moves", () => {
  const slips = (/** @type {number} */ ms) => (ms < 20_000 ? 0 : -30);
  const { hardware, tones } = playing(cuesEvery(1000, 60), 0, slips);
  play(tones, hardware, 0, 20_000, slips);
  const laid = [...hardware.starts];
  play(tones, hardware, 20_016, 50_000, slips);
  assert.deepEqual(hardware.starts.slice(0, laid.length), laid);
  near(
    hardware.starts.slice(laid.length),
    hardware.starts.slice(laid.length).map((_, i) => laid.length + i - 0.03),
  );
});

test("a drift of the clocks that is too small to hear leaves the beat even", () => {
  const creeps = (/** @type {number} */ ms) => ms * 3e-4;
  const { hardware, tones } = playing(cuesEvery(1000, 60), 0, creeps);
  play(tones, hardware, 0, 59_000, creeps);
  const beats = hardware.starts.slice(4).map((at, i, all) => (i ? at - all[i - 1] : 1));
  near(beats, Array(beats.length).fill(1));
});

test("from the first tap on there is never true silence, and the hum is far too quiet to hear", () => {
  const { hardware } = playing(cuesEvery(1000, 60));
  assert.equal(hardware.hums.length, 1);
  // 16-bit sound has 96 dB, value from memory: below that, nothing reaches a loudspeaker.
  assert.ok(hardware.hums[0] > 0 && 20 * Math.log10(hardware.hums[0]) < -96);
});

test("after an interruption the clocks are compared anew", () => {
  const { hardware, tones } = playing(cuesEvery(1000, 60));
  play(tones, hardware, 0, 5000, () => 0);
  hardware.dispatchEvent(new Event("statechange"));
  hardware.tell(5, 9500);
  hardware.starts.length = 0;
  tones.plan(cuesEvery(1000, 60), 5500, 9500);
  near(hardware.starts.slice(0, 1), [5.5]);
});

test("scheduled tones are cancelled, but never the tone of the sound check", () => {
  const { hardware, tones } = playing([]);
  tones.sample("up");
  tones.hush();
  assert.deepEqual([hardware.starts.length, hardware.takenBack], [1, 0]);
  hardware.tell(0, 0);
  tones.plan(cuesEvery(200, 4), 0, 0);
  tones.hush();
  assert.deepEqual([hardware.starts.length, hardware.takenBack], [5, 4]);
});

test("an old context that closes late does not disturb the session that plays by then", (t) => {
  t.mock.timers.enable({ apis: ["setTimeout"] });
  /** @type {Hardware[]} */
  const made = [];
  const tones = createTones(() => {
    made.push(new Hardware());
    return /** @type {any} */ (made[made.length - 1]);
  });
  let notices = 0;
  tones.onChange(() => {
    notices += 1;
  });
  tones.wake();
  tones.finish();
  tones.wake();
  t.mock.timers.tick(60_000);
  assert.deepEqual([made.map(({ state }) => state), notices], [["closed", "running"], 0]);
  made[1].dispatchEvent(new Event("statechange"));
  assert.equal(notices, 1);
});
