/**
 * The head of the day page: which day it is, who is with the client, whether the page is kept, and the way to yesterday.
 */

import { fillSlots, find } from "../parts/pieces.js";
import { daysBetween } from "../pure/calendar/local_day.js";
import { firstDay, isBeforeAll } from "../pure/dose/daybook.js";
import { keptText } from "./sent.js";

/**
 * @param {HTMLElement} root
 * @param {import("./page.js").Context} context
 * @param {import("../main.js").Edges} edges
 */
export function drawDate(root, context, { words, announce }) {
  const { today, bundle, events, practitioner } = context;
  const first = firstDay(events);
  const arms = (bundle?.arms ?? []).map((/** @type {string} */ arm) => words.say(`arm.${arm}`));
  const gaps = { day: daysBetween(first ?? today, today) + 1, arms: words.list(arms), name: practitioner?.name ?? "" };
  const about = first && bundle ? words.fill(practitioner ? "day.about_with" : "day.about", gaps) : null;
  const kept = keptText(context, words);
  const line = find(root, '.date [data-slot="kept"]');
  if (kept && line.dataset.isKept === "false" && context.isKept) announce(kept);
  line.dataset.isKept = `${context.isKept}`;
  find(root, "[data-yesterday]").hidden = first === null || first >= today;
  fillSlots(root, { weekday: words.weekday(today), date: words.date(today), about });
  fillSlots(find(root, ".date"), { kept: context.isKept && !isBeforeAll(context) ? null : kept });
}
