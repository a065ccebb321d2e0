/**
 * One morning's report on a page of its own: this morning's is corrected, an earlier one is corrected or told late. The address names the
 * day, as '#morning?2026-03-04'; without one it is today. The old entry stays in the log; a correction replaces its body. An earlier answer
 * that belongs to a stop is not asked again: only the practitioner ends a stop.
 *
 * @typedef {import("../wire.js").MorningBody["arms"]} Reported
 */

import { fillSlots, find, piece } from "../parts/pieces.js";
import { addDays } from "../pure/calendar/local_day.js";
import { answersThatStay, earlierMornings } from "../pure/dose/absence.js";
import { eventsOn } from "../pure/dose/daybook.js";
import { ratedBodies, unratedArms } from "../pure/dose/unrated.js";
import { createMorningForm, hasMore, lastReportBefore } from "./form.js";

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @returns {() => void} stop
 */
export function start(root, edges) {
  const over = new AbortController();
  const on = location.hash.split("?")[1] || edges.clock.today();
  root.replaceChildren(piece("morning", "screen"));
  void draw(root, edges, on, over.signal);
  return () => over.abort();
}

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @param {string} on
 * @param {AbortSignal} signal
 */
async function draw(root, edges, on, signal) {
  const { words, store, go } = edges;
  const { today, bundle, anchors, events, days } = await store.snapshot();
  if (signal.aborted) return;
  const reports = eventsOn(events, "morning_reported", on);
  const isEarlier = earlierMornings(bundle, anchors, events, today).some((each) => each.on === on);
  if (!bundle || !(isEarlier || (on === today && reports.length > 0))) return go("#day");
  const isLate = reports.length === 0;
  const eve = addDays(on, -1);
  if (on !== today)
    document.title = words.fill("title", { page: words.fill("title.morning_on", { day: words.day(on) }) });
  fillSlots(root, { title: words.say(isLate ? "morning.late" : "morning.correct"), about: words.day(on) });
  const stay = on === today ? {} : answersThatStay(bundle, events, on, days);
  const arms = bundle.arms.filter((/** @type {string} */ arm) => !stay[arm]);
  /** @type {import("./form.js").Answers} */
  const answers = Object.assign({}, ...reports.map((event) => event.body.arms));
  const asking = {
    arms,
    unrated: isLate ? unratedArms(events, eve, bundle.arms) : [],
    longSore: arms.filter((/** @type {string} */ arm) => answers[arm]?.besides !== undefined),
    since: lastReportBefore(events, on),
    day: on === today ? null : words.day(on),
    today: on,
    answers,
    lead: isLate ? words.say("morning.late_lead") : null,
    keep: () => undefined,
    save: async (/** @type {Reported} */ arms, /** @type {Record<string, number|null>} */ worst) => {
      const rated = ratedBodies(events, eve, worst);
      await store.addEvents(...corrections(rated, today), ...entriesOf(reports, { ...arms, ...stay }, on, today));
      edges.announce(words.say("day.saved"));
      go(hasMore(arms) ? "#warnings" : "#day");
    },
  };
  const unchanged = Object.keys(stay).map((arm) => staysOf(words, arm));
  find(root, "[data-body]").replaceChildren(
    ...unchanged,
    ...(arms.length ? [createMorningForm(edges, asking, signal)] : []),
  );
}

/** @param {import("../edges/screen/words.js").Words} words @param {string} arm whose answer stays as it is */
function staysOf(words, arm) {
  return fillSlots(piece("morning_stays"), { text: words.fill("morning.stays", { arm: words.say(`arm.${arm}`) }) });
}

/** @param {{replaces: string, body: any}[]} bodies @param {string} on */
const corrections = (bodies, on) =>
  bodies.map((body) => ({ kind: /** @type {const} */ ("entry_corrected"), on, body }));

/**
 * A report for a morning that has none, or the corrections of those it has. What was told late stays marked so.
 * @param {{id: string, body: import("../wire.js").MorningBody}[]} reports
 * @param {Reported} arms
 * @param {string} on
 * @param {string} today
 */
function entriesOf(reports, arms, on, today) {
  if (reports.length === 0)
    return [{ kind: /** @type {const} */ ("morning_reported"), on, body: { arms, late: true } }];
  const late = reports[0].body.late ? { late: true } : {};
  return corrections(
    reports.map(({ id }, at) => ({ replaces: id, body: at === 0 ? { arms, ...late } : null })),
    today,
  );
}
