/**
 * Chooses what the session's page plays: the stored run, or a new run of today's plan.
 *
 * @typedef {import("../pure/session/run.js").Run} Run
 * @typedef {{run: Run, session: import("../pure/session/player.js").Session, bundle: import("../wire.js").Bundle, base: import("../pure/session/run.js").Plan|null,
 *   ways: import("../pure/session/ways.js").Ways, isHeard: boolean, isPressed: boolean}} Opened
 *   base: today's plan as offered, null for a run that has begun; isHeard: the sound has been checked on this phone;
 *   isPressed: the client has already tapped Start
 */

import { newSession } from "../pure/session/player.js";
import { isStopped, newRun, sessionOf } from "../pure/session/run.js";
import { offeredBy, waysFrom } from "../pure/session/ways.js";
import { offerOf } from "./one_tap.js";
import { planBy } from "./ready.js";

/** @type {Record<string, string>} */
export const HASH_OF_END = { sharp: "#sharp", completed: "#after", stopped: "#after" };

/**
 * Goes to another page if there is nothing to play, if an arm of the stored run is stopped, or if it is not what the client pressed.
 * @param {import("../main.js").Edges} edges
 * @param {import("./one_tap.js").Press|null} press
 * @param {AbortSignal} signal
 * @returns {Promise<Opened|null|void>}
 */
export async function openSession({ store, clock, go, words, voice }, press, signal) {
  const kept = await store.takeRun();
  const reads = /** @type {const} */ ([
    store.bundle(kept?.plan.bundleHash),
    store.getMeta("ways"),
    store.getMeta("soundHeard"),
  ]);
  const [bundle, chosen, isHeard] = await Promise.all(reads);
  const plan = kept?.plan ?? (await store.todayPlan());
  if (signal.aborted) return null;
  if (kept?.ended) return go(HASH_OF_END[kept.ended]);
  if (kept && (kept.on !== clock.today() || isStopped(kept, await store.snapshot()))) return go("#day");
  if (signal.aborted) return null;
  if (press && press.offer !== offerOf(kept, plan)) return go("#day", "changed");
  if (!plan) return go("#day");
  voice.find();
  const ways = waysFrom(chosen, clock.today(), offeredBy(bundle, plan));
  const run = kept ?? planBy(words, bundle, newRun(plan, store.newId()), plan, ways);
  const session = kept ? sessionOf(kept, press?.how ?? "step", clock.now()) : newSession();
  const base = kept ? null : plan;
  return { run, session, bundle, base, ways, isHeard: Boolean(isHeard), isPressed: Boolean(press) };
}
