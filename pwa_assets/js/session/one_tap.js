/**
 * One tap starts a session. The tap itself does all that a browser allows only inside a tap, before anything is read from
 * storage. The press is handed to the session's page in memory, so that an address or a reload starts nothing.
 *
 * @typedef {import("../pure/session/run.js").Run} Run
 * @typedef {import("../pure/session/run.js").Plan} Plan
 * @typedef {{offer: string, how: "step"|"restart"}} Press offer: what the pressed page offered; how: go on within the step, or
 *   start the step again
 */

import { SessionSpeaker } from "./speaker.js";

/**
 * @param {Run|null} run
 * @param {Plan|null} plan
 * @returns {string} a key: equal for two offers that start the same session
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

/** Releases sound and screen where the tap led to no session. @param {import("../main.js").Edges} edges */
export function letGo({ tones, wakeLock }) {
  tones.finish();
  wakeLock.drop();
}
