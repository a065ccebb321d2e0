/**
 * Keeps the screen on during a session. The browser releases the lock when the page is hidden or the battery is low.
 * The lock is requested again each time the page becomes visible.
 *
 * @typedef {{take(): void, drop(): void, isHeld(): boolean, onChange(changed: () => void): () => void}} WakeLock
 */

/**
 * @param {Document} page
 * @returns {WakeLock}
 */
export function createWakeLock(page) {
  /** @type {WakeLockSentinel|null} */
  let held = null;
  let isWanted = false;
  /** @type {Set<() => void>} */
  const listeners = new Set();
  const tell = () => {
    for (const changed of listeners) changed();
  };
  const take = async () => {
    if (!isWanted || held || page.visibilityState !== "visible") return;
    const lock = await navigator.wakeLock?.request("screen").catch(() => null);
    if (!lock || !isWanted || held) return void lock?.release();
    held = lock;
    lock.addEventListener("release", () => {
      if (held === lock) held = null;
      tell();
    });
  };
  const ask = () => void take().then(tell);
  page.addEventListener("visibilitychange", ask);
  return {
    take() {
      isWanted = true;
      ask();
    },
    drop() {
      isWanted = false;
      void held?.release();
      held = null;
    },
    isHeld: () => held !== null,
    onChange(changed) {
      listeners.add(changed);
      return () => listeners.delete(changed);
    },
  };
}
