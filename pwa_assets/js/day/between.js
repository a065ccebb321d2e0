/**
 * Between two sessions of one day: when the next may begin, and what follows where one is all there is time for. Starting before that
 * is possible; it asks first.
 */

import { fillSlots, find, onAct } from "../parts/pieces.js";
import { startAtOnce } from "../session/one_tap.js";
import { drawRuler } from "./ruler.js";

/** @typedef {import("./page.js").Context} Context */

/** The mark of now moves this often. */
const LOOK_MINUTES = 15;
/** About how long a short session is on the ruler, hours. */
const SESSION_HOURS = 0.5;

/** @param {Context} context */
export function seen(context) {
  const { from, after, isTooLate } = soonest(context);
  return { from, after, isTooLate, at: Math.floor(context.now / (LOOK_MINUTES * 60_000)) };
}

/** The wait that ends first. @param {Context} context @returns {import("../pure/dose/between_sessions.js").Wait} */
function soonest({ days }) {
  const waits = days.flatMap(({ wait, isOffered }) => (wait && isOffered ? [wait] : []));
  return waits.sort((first, second) => first.from - second.from)[0];
}

/** @param {Context} context @param {import("../edges/screen/words.js").Words} words @returns {string|null} what is said where a clock was changed */
export function unknownText({ bundle, days }, words) {
  if (days.every(({ wait }) => !wait?.isUnknown)) return null;
  return words.fill("between.unknown", { hours: words.plural("between.hours", bundle.apart.hours) });
}

/**
 * @param {DocumentFragment} node
 * @param {Context} context
 * @param {import("../main.js").Edges} edges
 * @param {AbortSignal} signal
 */
export function fill(node, context, edges, signal) {
  const { words, clock } = edges;
  const { bundle, now, days, today } = context;
  const { after, from, isTooLate } = soonest(context);
  const hour = (/** @type {number} */ ms) => clock.hourOn(today, ms);
  const { hours, latest } = bundle.apart;
  const gaps = {
    hours: words.plural("between.hours", hours),
    from: words.time(from),
    after: words.time(after),
    latest: latestText(edges, today, latest),
  };
  const { done, sessionsAsked } = days.filter(({ wait }) => wait)[0];
  fillSlots(node, {
    state: isTooLate ? words.say("between.late") : words.fill("between.from", gaps),
    why: isTooLate ? words.fill("between.late_why", gaps) : words.fill("between.why", gaps),
    saved: words.fill("session.saved", { done, asked: sessionsAsked }),
    until: isTooLate ? null : words.fill("between.until", gaps),
    early: words.fill(now < from ? "between.early" : "between.early_late", gaps),
  });
  const possible = isTooLate ? [] : [{ kind: /** @type {const} */ ("possible"), from: hour(from), to: latest }];
  find(node, "[data-ruler]").append(
    drawRuler([
      ...possible,
      { kind: "done", from: hour(after) - SESSION_HOURS, to: hour(after) },
      { kind: "now", from: hour(now) },
    ]),
  );
  drawEarly(node, context, edges, signal);
}

/** The latest start in words, on the clock of this place. @param {import("../main.js").Edges} edges @param {string} today @param {number} latest */
function latestText({ words, clock }, today, latest) {
  const now = clock.now();
  return words.time(now + (latest - clock.hourOn(today, now)) * 3_600_000);
}

/** @param {DocumentFragment} node @param {Context} context @param {import("../main.js").Edges} edges @param {AbortSignal} signal */
function drawEarly(node, context, edges, signal) {
  const [asks, ask] = [find(node, "[data-asks]"), find(node, '[data-act="early"]')];
  ask.hidden = Boolean(context.run);
  const show = (/** @type {boolean} */ isAsked) => {
    asks.hidden = !isAsked;
    ask.hidden = isAsked;
    find(isAsked ? asks : ask, isAsked ? "p" : "span").focus();
  };
  onAct(node, "early", () => show(true), signal);
  onAct(node, "wait", () => show(false), signal);
  onAct(node, "start_early", () => (context.isHeard ? startAtOnce(edges, context) : edges.go("#session")), signal);
}
