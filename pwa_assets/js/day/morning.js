/**
 * The morning on the day page: first its questions, then the answers and how yesterday counts.
 *
 * @typedef {import("../wire.js").MorningBody["arms"]} Reported
 * @typedef {import("../morning/form.js").Answers} Answers
 */

import { createMorningForm, draftOf, hasMore, keepDraft, lastReportBefore } from "../morning/form.js";
import { fillSlots, find, piece } from "../parts/pieces.js";
import { addDays } from "../pure/calendar/local_day.js";
import { eventsOn, firstDay } from "../pure/dose/daybook.js";
import { isLongSore } from "../pure/dose/today.js";
import { ratedBodies, unratedArms } from "../pure/dose/unrated.js";

/**
 * @param {import("./page.js").Context} context
 * @returns {any} what the part shows; it is drawn again only when this changes
 */
export function seen(context) {
  if (!context.bundle) return null;
  return {
    today: context.today,
    arms: context.bundle.arms,
    told: reports(context).map((event) => event.body),
    unrated: isReported(context) ? [] : unratedArms(context.events, addDays(context.today, -1), context.bundle.arms),
    longSore: longSore(context),
    responses: context.days.map((day) => day.responseYesterday),
  };
}

/**
 * @param {HTMLElement} part
 * @param {import("./page.js").Context} context
 * @param {import("../main.js").Edges} edges
 * @param {AbortSignal} signal
 */
export async function draw(part, context, edges, signal) {
  const entries = reports(context);
  const isOpen = !isReported(context);
  find(part, "[data-aside]").textContent = isOpen
    ? ""
    : edges.words.fill("morning.at", { time: edges.words.time(Date.parse(entries[entries.length - 1].at)) });
  find(part, "[data-body]").replaceChildren(
    isOpen ? await form(context, edges, signal) : account(context, edges.words),
  );
}

/** @param {import("./page.js").Context} context @returns {string[]} the arms that were sore for days */
function longSore({ bundle, days }) {
  return days.filter((day) => isLongSore(bundle, day)).map(({ arm }) => arm);
}

/** @param {import("./page.js").Context} context */
export function isReported(context) {
  const reportedArms = new Set(reports(context).flatMap((event) => Object.keys(event.body.arms)));
  return context.bundle.arms.every((/** @type {string} */ arm) => reportedArms.has(arm));
}

/** @param {import("./page.js").Context} context */
function reports(context) {
  return eventsOn(context.events, "morning_reported", context.today);
}

/**
 * @param {import("./page.js").Context} context
 * @param {import("../main.js").Edges} edges
 * @param {AbortSignal} signal
 */
async function form(context, edges, signal) {
  const { store, words, announce } = edges;
  const { events, today, bundle } = context;
  const isFirst = firstDay(events) === today;
  const yesterday = addDays(today, -1);
  const asking = {
    arms: bundle.arms,
    unrated: unratedArms(events, yesterday, bundle.arms),
    since: lastReportBefore(events, today),
    longSore: longSore(context),
    today,
    answers: await draftOf(store, today),
    lead: words.say(isFirst ? "morning.lead_first" : "morning.lead"),
    keep: (/** @type {Answers} */ answers) => void keepDraft(store, today, answers),
    save: async (/** @type {Reported} */ arms, /** @type {Record<string, number|null>} */ worst) => {
      const rated = ratedBodies(events, yesterday, worst);
      context.reported();
      await store.addEvents(
        ...rated.map((body) => ({ kind: /** @type {const} */ ("entry_corrected"), on: today, body })),
        {
          kind: "morning_reported",
          on: today,
          body: { arms },
        },
      );
      announce(words.say("day.saved"));
      if (hasMore(arms)) edges.go("#warnings");
    },
  };
  return createMorningForm(edges, asking, signal);
}

/**
 * @param {import("./page.js").Context} context
 * @param {import("../edges/screen/words.js").Words} words
 */
function account(context, words) {
  const node = piece("morning_told");
  const isDayOne = firstDay(context.events) === context.today;
  const list = find(node, ".told");
  for (const day of context.days) {
    const { morning: pain, sharp } = day.yesterday;
    const key = sharp ? "morning.told_sharp" : "morning.told";
    const response = isDayOne ? "" : context.bundle.responses[day.responseYesterday];
    const slots = {
      pain: words.fill(key, { pain: pain ?? 0, arm: words.say(`arm.${day.arm}`) }),
      counts: response ? words.fill("morning.counts", { response }) : null,
    };
    list.append(fillSlots(piece("morning_told_arm"), slots));
  }
  return node;
}
