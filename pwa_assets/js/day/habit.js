/**
 * The one habit that the practitioner chose: what to do, what to take care of, the last seven days. Ticked in the evening, or for yesterday
 * in the morning; a second press takes the tick back.
 */

import { fillSlots, find, onAct, piece, showFault } from "../parts/pieces.js";
import { addDays } from "../pure/calendar/local_day.js";
import { chosenHabit, ticksOn } from "../pure/dose/habit.js";

/** @param {import("./page.js").Context} context */
export function seen({ bundle, events, today }) {
  const chosen = bundle ? chosenHabit(events, today) : null;
  return chosen && bundle.habits?.[chosen.id] ? chosen : null;
}

/**
 * @param {HTMLElement} part
 * @param {import("./page.js").Context} context
 * @param {import("../main.js").Edges} edges
 * @param {AbortSignal} signal
 */
export function draw(part, context, edges, signal) {
  const chosen = seen(context);
  if (!chosen) return;
  const { words, store } = edges;
  const focused = document.activeElement?.getAttribute("data-act") ?? "";
  const wasInside = part.contains(document.activeElement);
  const note = (/** @type {Parameters<typeof store.addEvents>} */ ...notes) =>
    void store.addEvents(...notes).catch(() => showFault(part, words.say("day.not_kept"), null));
  const { name, text, caution, basis } = context.bundle.habits[chosen.id];
  const unsuited = chosen.isUnsuited ? words.say("habit.unsuited") : null;
  const node = fillSlots(piece("habit"), { name, text, caution, basis, unsuited });
  find(node, "[data-week]").append(...chosen.days.map((day) => dayOf(day, words)));
  for (const [act, on] of Object.entries({ today: context.today, yesterday: addDays(context.today, -1) })) {
    const ticks = ticksOn(context.events, chosen.id, on);
    find(node, `[data-act="${act}"]`).setAttribute("aria-pressed", String(ticks.length > 0));
    onAct(node, act, () => note(...toggled(chosen.id, on, ticks)), signal);
  }
  const leave = find(node, '[data-act="unsuited"]');
  leave.hidden = chosen.isUnsuited;
  const body = { habit: chosen.id, kept: false, suits: false, chosen: chosen.choice };
  onAct(node, "unsuited", () => note({ kind: "habit_noted", on: context.today, body }), signal);
  find(part, "[data-body]").replaceChildren(node);
  if (wasInside && focused)
    find(part, `[data-act="${leave.hidden && focused === "unsuited" ? "today" : focused}"]`).focus();
}

/** @param {{on: string, isKept: boolean}} day @param {import("../edges/screen/words.js").Words} words */
function dayOf({ on, isKept }, words) {
  const state = words.say(isKept ? "habit.kept" : "habit.left");
  const node = fillSlots(piece("habit_day"), { day: [...words.weekday(on)].slice(0, 2).join(""), state });
  find(node, "li").toggleAttribute("data-kept", isKept);
  return node;
}

/** What a press on a day's button notes: the tick, or that the ticks are taken back. @param {string} habit @param {string} on @param {string[]} ticks */
function toggled(habit, on, ticks) {
  if (ticks.length === 0) return [{ kind: /** @type {const} */ ("habit_noted"), on, body: { habit, kept: true } }];
  const kind = /** @type {const} */ ("entry_corrected");
  return ticks.map((id) => ({ kind, on, body: { replaces: id, body: null } }));
}
