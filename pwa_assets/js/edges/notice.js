/**
 * A notice that something changed: it calls the listeners in this window and in the other windows of the app.
 *
 * @typedef {{tell(): void, listen(heard: () => void): () => void}} Notice
 * @param {string} name
 * @returns {Notice}
 */
export function createNotice(name) {
  /** @type {Set<() => void>} */
  const listeners = new Set();
  const channel = new BroadcastChannel(name);
  const hear = () => {
    for (const listener of listeners) listener();
  };
  channel.onmessage = hear;
  return {
    tell() {
      channel.postMessage(null);
      hear();
    },
    listen(heard) {
      listeners.add(heard);
      return () => listeners.delete(heard);
    },
  };
}
