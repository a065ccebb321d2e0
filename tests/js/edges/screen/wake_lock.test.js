import assert from "node:assert/strict";
import { test } from "node:test";
import { createWakeLock } from "../../../../pwa_assets/js/edges/screen/wake_lock.js";

const settle = () => new Promise((done) => setImmediate(done));

/** A page on a phone that grants the lock while the page is visible, and releases it when the page is hidden. */
function phone() {
  const page = Object.assign(new EventTarget(), { visibilityState: "visible" });
  /** @type {(EventTarget & {release(): Promise<void>})[]} */
  const locks = [];
  const request = async () => {
    const lock = Object.assign(new EventTarget(), {
      release: async () => void lock.dispatchEvent(new Event("release")),
    });
    locks.push(lock);
    return lock;
  };
  Object.defineProperty(globalThis, "navigator", { value: { wakeLock: { request } }, configurable: true });
  return {
    lock: createWakeLock(/** @type {any} */ (page)),
    given: locks,
    /** @param {"visible"|"hidden"} state */
    async turn(state) {
      page.visibilityState = state;
      if (state === "hidden") for (const held of locks.splice(0)) await held.release();
      page.dispatchEvent(new Event("visibilitychange"));
      await settle();
    },
  };
}

test("a lock that the browser took while the page was hidden is taken again when it comes back", async () => {
  const { lock, turn } = phone();
  lock.take();
  await settle();
  assert.equal(lock.isHeld(), true);
  await turn("hidden");
  assert.equal(lock.isHeld(), false);
  await turn("visible");
  assert.equal(lock.isHeld(), true);
});

test("a lock that is not wanted any more is given back, and not taken again", async () => {
  const { lock, given: locks, turn } = phone();
  let released = 0;
  lock.take();
  await settle();
  locks[0].addEventListener("release", () => {
    released += 1;
  });
  lock.drop();
  assert.deepEqual([lock.isHeld(), released], [false, 1]);
  await turn("hidden");
  await turn("visible");
  assert.equal(lock.isHeld(), false);
});
