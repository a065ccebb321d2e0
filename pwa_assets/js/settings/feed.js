/**
 * A calendar's address: the server makes it, and the calendar program of the client follows it. Each act needs a network.
 */

import { fillSlots, find, onAct } from "../parts/pieces.js";

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @param {() => Record<string, string>} readTimes the times that are on the screen
 * @param {AbortSignal} signal
 * @returns {() => Promise<void>} call it when the times have changed: an address that is there follows them
 */
export function wireFeed(root, edges, readTimes, signal) {
  const { store, words } = edges;
  const part = find(root, "[data-feed]");
  const show = async (/** @type {string|null} */ fault) => {
    const key = await store.getMeta("feedKey");
    if (signal.aborted) return;
    fillSlots(part, {
      address: key ? `${location.origin}/calendar/${key}.ics` : null,
      feed_act: words.say(key ? "feed.renew" : "feed.make"),
      feed_fault: fault,
      copied: null,
    });
    find(part, "[data-shown]").hidden = !key;
  };
  const send = async (/** @type {Record<string, string>} */ times) => {
    const outcome = await edges.server.feed({ times: withNulls(times), key: (await store.getMeta("feedKey")) ?? "" });
    if (outcome.kind === "answer") await store.setMeta("feedKey", outcome.body.key || null);
    const fault = outcome.kind === "refused" ? outcome.message : words.say("feed.silent");
    await show(outcome.kind === "answer" ? null : fault);
  };
  const make = async () => {
    const times = readTimes();
    if (Object.keys(times).length) await send(times);
    else await show(words.say("reminders.none"));
  };
  const copy = async () => {
    const isCopied = await edges.room.copy(find(part, '[data-slot="address"]').textContent ?? "");
    fillSlots(part, { copied: words.say(isCopied ? "home.copied" : "home.by_hand") });
  };
  onAct(part, "feed", () => void make(), signal);
  onAct(part, "copy_feed", () => void copy(), signal);
  onAct(part, "end_feed", () => void send({}), signal);
  void show(null);
  void forgetEnded(edges).then((hasEnded) => (hasEnded ? show(words.say("feed.ended")) : undefined));
  return async () => {
    if (await store.getMeta("feedKey")) await send(readTimes());
  };
}

/**
 * Forgets the key of an address that has ended elsewhere.
 * @param {import("../main.js").Edges} edges
 * @returns {Promise<boolean>} whether it has
 */
async function forgetEnded({ store, server }) {
  const key = await store.getMeta("feedKey");
  const hasEnded = Boolean(key) && (await server.feedEnded(key)) && (await store.getMeta("feedKey")) === key;
  if (hasEnded) await store.setMeta("feedKey", null);
  return hasEnded;
}

/** @param {Record<string, string>} times @returns {import("../wire.js").ReminderTimes} */
const withNulls = ({ morning, session, second }) => ({
  morning: morning ?? null,
  session: session ?? null,
  second: second ?? null,
});
