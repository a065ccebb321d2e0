/**
 * What the practitioner has set: maintenance on some days of a week, a rest until a day, the end, or training again. A held arm has its own part above this one.
 */

import { drawWho } from "../letters/who.js";
import { fillSlots, find, piece } from "../parts/pieces.js";
import { eventsOn } from "../pure/dose/daybook.js";
import { trainedDays } from "../pure/dose/set_course.js";

/** Parts of the day page that a course leaves out. */
const LEFT_OUT = {
  training: [""],
  maintenance: [""],
  rest: ["tomorrow"],
  ended: ["tomorrow", "later", "who"],
};

/**
 * @param {string} name of a part
 * @param {import("./page.js").Context} context
 * @returns {boolean} whether the part may be shown; the morning only where it is asked for or told
 */
export function isKept(name, { course, events, today }) {
  if (name === "morning") return course.isMorningAsked || eventsOn(events, "morning_reported", today).length > 0;
  // On a free day there is nothing of today that tomorrow could depend on.
  if (name === "tomorrow" && course.isFree) return false;
  return !LEFT_OUT[course.to].includes(name);
}

/** @param {import("./page.js").Context} context */
export function seen({ bundle, course, events, today, practitioner }) {
  const { to, since, daysAWeek, doneNow, next, reason, by, seenAgainOn, until } = course;
  if (!bundle || since === null) return null;
  if (to === "training" && [...trainedDays(bundle.arms, events)].some((on) => on >= since)) return null;
  return {
    to,
    since,
    daysAWeek,
    doneNow,
    next,
    reason,
    by,
    seenAgainOn,
    until,
    today,
    practitioner: to === "ended" ? practitioner : null,
  };
}

/**
 * @param {HTMLElement} part
 * @param {import("./page.js").Context} context
 * @param {import("../main.js").Edges} edges
 */
export function draw(part, { course, today, practitioner }, { words }) {
  const { to, since, daysAWeek, doneNow, next, reason, by, seenAgainOn, until } = course;
  const gaps = {
    asked: daysAWeek,
    done: doneNow,
    day: words.day(next),
    by,
    since: words.day(since ?? today),
    until: words.day(until ?? today),
  };
  fillSlots(part, { finishing: words.fill(`finishing.${to}`, gaps) });
  const node = fillSlots(piece(`finishing_${to}`), {
    by: words.fill("finishing.by", gaps),
    reason,
    again: seenAgainOn ? words.fill("finishing.again", { day: words.day(seenAgainOn) }) : null,
    done: to === "maintenance" ? words.fill("finishing.done", gaps) : null,
    next: to === "maintenance" && next > today ? words.fill("finishing.next", gaps) : null,
    until: to === "rest" ? words.fill("finishing.until", gaps) : null,
  });
  if (to === "ended") find(node, "[data-who]").append(...drawWho(words, practitioner));
  find(part, "[data-body]").replaceChildren(node);
}
