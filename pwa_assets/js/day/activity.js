/**
 * Once a week one calm line: how well one of the client's own activities can be done. It can be put off, and changes no dose.
 */

import { fillSlots, find, onAct, piece, showFault } from "../parts/pieces.js";
import { firstDay } from "../pure/dose/daybook.js";
import { activityDue, weekOf } from "../pure/weeks/activities.js";

const HIGHEST = 10;

/** @param {import("./page.js").Context} context */
export function seen({ bundle, events, today, activityPutOff }) {
  const first = firstDay(events);
  if (!bundle || !first || first > today || activityPutOff === weekOf(first, today)) return null;
  const activity = activityDue(events, first, today, bundle.asks?.activity_weeks ?? []);
  return activity === null ? null : { activity, week: weekOf(first, today) };
}

/**
 * @param {HTMLElement} part
 * @param {import("./page.js").Context} context
 * @param {import("../main.js").Edges} edges
 * @param {AbortSignal} signal
 */
export function draw(part, context, { store, words, announce }, signal) {
  const { activity, week } = seen(context) ?? { activity: "", week: 0 };
  const node = fillSlots(piece("activity"), { activity });
  const choice = /** @type {HTMLSelectElement} */ (find(node, "select"));
  for (let rating = 0; rating <= HIGHEST; rating += 1) {
    const end = rating === 0 ? "activity.not_at_all" : rating === HIGHEST ? "activity.as_before" : null;
    choice.append(new Option(end ? words.fill(end, { rating }) : words.number(rating), String(rating)));
  }
  const putOff = () =>
    store.setMeta("activityPutOff", week).catch(() => showFault(part, words.say("day.not_kept"), null));
  onAct(node, "put_off", () => void putOff(), signal);
  onAct(node, "save_rating", save, signal);
  find(part, "[data-body]").replaceChildren(node);

  async function save() {
    if (choice.value === "") return showFault(part, words.say("activity.missing"), choice);
    find(part, "[data-fault]").hidden = true;
    const body = { activity, rating: Number(choice.value) };
    await store.addEvents({ kind: "activity_rated", on: context.today, body }).then(
      () => announce(words.say("day.saved")),
      () => showFault(part, words.say("day.not_saved"), null),
    );
  }
}
