/**
 * Correcting this morning's report. The old entry stays in the log; a correction replaces its body.
 *
 * @typedef {import("../wire.js").MorningBody["arms"]} Reported
 */

import { fillSlots, find, piece } from "../parts/pieces.js";
import { eventsOn } from "../pure/dose/daybook.js";
import { createMorningForm, lastReportBefore } from "./form.js";

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @returns {() => void} stop
 */
export function start(root, edges) {
  const over = new AbortController();
  root.replaceChildren(fillSlots(piece("morning", "screen"), { about: edges.words.day(edges.clock.today()) }));
  void draw(root, edges, over.signal);
  return () => over.abort();
}

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @param {AbortSignal} signal
 */
async function draw(root, edges, signal) {
  const { today, bundle, events } = await edges.store.snapshot();
  if (signal.aborted) return;
  const reports = eventsOn(events, "morning_reported", today);
  if (!bundle || reports.length === 0) return edges.go("#day");
  const asking = {
    arms: bundle.arms,
    unrated: [],
    since: lastReportBefore(events, today),
    today,
    answers: Object.assign({}, ...reports.map((event) => event.body.arms)),
    lead: null,
    keep: () => undefined,
    save: (/** @type {Reported} */ arms) => putRight(edges, reports, arms, today),
  };
  find(root, "[data-body]").replaceChildren(createMorningForm(edges, asking, signal));
}

/**
 * @param {import("../main.js").Edges} edges
 * @param {{id: string}[]} reports
 * @param {Reported} arms
 * @param {string} on
 */
async function putRight({ store, words, announce, go }, reports, arms, on) {
  const bodies = reports.map(({ id }, i) => ({ replaces: id, body: i === 0 ? { arms } : null }));
  await store.addEvents(...bodies.map((body) => ({ kind: /** @type {const} */ ("entry_corrected"), on, body })));
  announce(words.say("day.saved"));
  go("#day");
}
