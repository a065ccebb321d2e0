import assert from "node:assert/strict";
import { test } from "node:test";
import { SessionWatch } from "../../../pwa_assets/js/session/watch.js";

const WALL = 1_772_474_400_000;

/** A watch on a running session. A test moves its two clocks, together or one alone. */
function watching() {
  const at = { mono: 1000, wall: WALL };
  const clock = { mono: () => at.mono, now: () => at.wall, after: () => () => undefined };
  const watch = new SessionWatch(/** @type {any} */ (clock));
  watch.begin();
  return {
    watch,
    look: (isRunning = true) => watch.look(watch.now(), isRunning),
    /** @param {number} mono ms @param {number} [wall] */
    pass(mono, wall = mono) {
      at.mono += mono;
      at.wall += wall;
    },
  };
}

/** Hides the page for some time without a look, like a page that froze. @param {ReturnType<typeof watching>} watched @param {number} ms */
function hiddenFor({ watch, look, pass }, ms, isRunning = true) {
  watch.hide(() => undefined);
  pass(ms);
  look(isRunning);
  return watch.comeBack();
}

test("a session looked at in time has no gap, however long it runs", () => {
  const { watch, look, pass } = watching();
  for (let seconds = 0; seconds < 3600; seconds += 3) {
    pass(3000);
    assert.equal(look(), null);
  }
  assert.equal(watch.awaySeconds, 0);
});

test("more than three seconds without a look are a gap from the last good instant on", () => {
  const { watch, look, pass } = watching();
  pass(500);
  look();
  const good = watch.now();
  pass(3001);
  assert.deepEqual(look(), good);
  assert.equal(watch.awaySeconds, 3);
});

test("clocks that come apart by more than two seconds are a gap, whichever of them went on", () => {
  for (const [mono, wall, away] of [
    [500, 2501, 3],
    [500, -3_600_000, 1],
    [500, 3_600_500, 3601],
  ]) {
    const { watch, look, pass } = watching();
    const good = watch.now();
    pass(mono, wall);
    assert.deepEqual([look(), watch.awaySeconds], [good, away]);
  }
  const { look, pass } = watching();
  pass(500, 2500);
  assert.equal(look(), null);
});

test("a hidden page is away from the instant it was hidden, though it was looked at meanwhile", () => {
  const { watch, look, pass } = watching();
  pass(2000);
  look();
  const hiddenAt = watch.now();
  watch.hide(() => undefined);
  for (const ms of [1000, 1000, 1000]) {
    pass(ms);
    assert.equal(look(), null);
  }
  assert.equal(watch.trusted(), hiddenAt.mono);
  pass(1);
  assert.deepEqual([look(), watch.awaySeconds], [hiddenAt, 3]);
});

test("three seconds hidden are no absence", () => {
  const watched = watching();
  assert.equal(hiddenFor(watched, 3000), false);
  assert.equal(watched.watch.awaySeconds, 0);
});

test("the gap of a hidden page has its final length when the page is visible again", () => {
  const { watch, look, pass } = watching();
  watch.hide(() => undefined);
  pass(3100);
  look();
  pass(596_900);
  look(false);
  assert.equal(watch.awaySeconds, 3);
  assert.deepEqual([watch.comeBack(), watch.awaySeconds], [true, 600]);
  assert.equal(watch.comeBack(), false);
});

test("a second absence while the session still waits leaves the gap of the first as it was", () => {
  const watched = watching();
  assert.equal(hiddenFor(watched, 600_000), true);
  watched.pass(1000);
  assert.equal(hiddenFor(watched, 5000, false), false);
  assert.equal(watched.watch.awaySeconds, 600);
});

test("a gap that was not caused by hiding the page, or that comes from a stored run, is not changed by the next hiding", () => {
  const asleep = watching();
  asleep.pass(60_000);
  asleep.look();
  assert.equal(hiddenFor(asleep, 5000, false), false);
  assert.equal(asleep.watch.awaySeconds, 60);
  const kept = watching();
  kept.watch.awaySeconds = 10_800;
  assert.equal(hiddenFor(kept, 2000, false), false);
  assert.equal(kept.watch.awaySeconds, 10_800);
});

test("once the session goes on, the next absence is a gap of its own", () => {
  const watched = watching();
  hiddenFor(watched, 600_000);
  watched.watch.begin();
  assert.equal(watched.watch.awaySeconds, 0);
  assert.equal(hiddenFor(watched, 5000), true);
  assert.equal(watched.watch.awaySeconds, 5);
});
