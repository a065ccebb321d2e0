/**
 * One tap starts a session. All that only a tap may do is done in it, before anything is read; what was pressed is handed
 * to the session's page in memory, so that an address alone, or a reload, starts nothing.
 *
 * @typedef {import("../pure/session/run.js").Run} Run
 * @typedef {import("../pure/session/run.js").Plan} Plan
 * @typedef {{offer: string, how: "step"|"restart"}} Press what stood on the page that was pressed, and how to go on with it
 */

import { SessionSpeaker } from "./speaker.js";

/**
 * @param {Run|null} run
 * @param {Plan|null} plan
 * @returns {string} one and the same as long as it is the same session that would be started
 */
export const offerOf = (run, plan) => run?.id ?? JSON.stringify(plan);

/**
 * Must be called inside a tap.
 * @param {import("../main.js").Edges} edges
 * @param {{run: Run|null, plan: Plan|null, ways: import("../pure/session/ways.js").Ways}} seen
 * @param {Press["how"]} [how]
 */
export function startAtOnce(edges, { run, plan, ways }, how = "step") {
  new SessionSpeaker(edges, ways).wake();
  edges.tones.wake();
  edges.wakeLock.take();
  edges.go("#session", { offer: offerOf(run, plan), how });
}

/** Gives back what the tap took, where no session came of it. @param {import("../main.js").Edges} edges */
export function letGo({ tones, wakeLock }) {
  tones.finish();
  wakeLock.drop();
}
