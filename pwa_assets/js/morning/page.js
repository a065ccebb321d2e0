/**
 * This morning's report, put right: the old entry stays in the log, the new one takes its place.
 *
 * @typedef {import("../wire.js").MorningBody["arms"]} Reported
 */

import { fillSlots, one, piece } from "../parts/pieces.js";
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
  const told = eventsOn(events, "morning_reported", today);
  if (!bundle || told.length === 0) return edges.go("#day");
  const asked = {
    arms: bundle.arms,
    unrated: [],
    since: lastReportBefore(events, today),
    today,
    answers: Object.assign({}, ...told.map((event) => event.body.arms)),
    lead: null,
    keep: () => undefined,
    save: (/** @type {Reported} */ arms) => putRight(edges, told, arms, today),
  };
  one(root, "[data-body]").replaceChildren(createMorningForm(edges, asked, signal));
}

/**
 * @param {import("../main.js").Edges} edges
 * @param {{id: string}[]} told
 * @param {Reported} arms
 * @param {string} on
 */
async function putRight({ store, words, announce, go }, told, arms, on) {
  const bodies = told.map(({ id }, i) => ({ replaces: id, body: i === 0 ? { arms } : null }));
  await store.addEvents(...bodies.map((body) => ({ kind: /** @type {const} */ ("entry_corrected"), on, body })));
  announce(words.say("day.saved"));
  go("#day");
}
