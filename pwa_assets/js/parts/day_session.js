/**
 * The day page's session: what is asked and why, or what stands in its place.
 */

import { playedDose } from "../pure/played_dose.js";
import { totalMs } from "../pure/timeline.js";
import { shaped } from "../pure/ways.js";
import { drawDose } from "./dose_view.js";
import { startAtOnce } from "./one_tap.js";
import { fillSlots, onAct, one, piece } from "./pieces.js";
import { toldWays } from "./session_ways.js";

/** @typedef {import("../screens/day.js").Context} Context */

/**
 * @param {Context} context
 * @returns {any}
 */
export function seen(context) {
  const days = context.days.map(({ arm, position, done, why, isHeldNow, hasEnded, facts }) => ({
    arm,
    position,
    done,
    why,
    isHeldNow,
    hasEnded,
    facts,
  }));
  return {
    today: context.today,
    bundle: context.bundle?.hash,
    days,
    kind: kindOf(context),
    isRunOpen: Boolean(context.run),
    ways: context.ways,
    isHeard: context.isHeard,
  };
}

/**
 * @param {HTMLElement} part
 * @param {Context} context
 * @param {import("../main.js").Edges} edges
 * @param {AbortSignal} signal
 */
export function draw(part, context, edges, signal) {
  const { words } = edges;
  const kind = kindOf(context);
  const node = piece(`session_${kind}`);
  const steps = kind === "offered" ? stepsOf(context) : [];
  one(part, "[data-aside]").textContent = kind === "offered" ? aside(context, steps, words) : "";
  if (kind === "none") fillSlots(node, { text: words.say("routine.none") });
  if (kind === "offered" || kind === "rest") drawDoses(node, context, steps, words);
  if (kind === "done" || kind === "ended") fillSlots(node, { worst: worst(context, words) });
  if (kind === "offered" || kind === "after_report") fillSlots(node, { saved: saved(context, words) });
  if (kind === "offered") {
    one(node, "[data-held]").append(...heldArms(context, words));
    one(node, "[data-begin]").hidden = Boolean(context.run);
    drawStart(node, context, edges, signal);
  }
  if (kind === "after_report") onAct(node, "skip", context.skipReport, signal);
  one(part, "[data-body]").replaceChildren(node);
}

/** @param {Context} context of a day that offers a session @returns {import("../pure/timeline.js").Step[]} what Start will play */
function stepsOf({ bundle, plan, ways }) {
  return plan ? shaped(bundle, plan, ways).steps : [];
}

/**
 * Start starts at once; before the first session, whose sound nobody has heard yet, it opens the page before the start.
 * @param {DocumentFragment} node
 * @param {Context} context
 * @param {import("../main.js").Edges} edges
 * @param {AbortSignal} signal
 */
function drawStart(node, context, edges, signal) {
  const look = () => edges.go("#session");
  fillSlots(node, { ways: toldWays(edges.words, context.ways) });
  onAct(node, "start", context.isHeard ? () => startAtOnce(edges, context) : look, signal);
  onAct(node, "ways", look, signal);
}

/**
 * @param {Context} context
 * @returns {"none"|"held"|"after_report"|"offered"|"ended"|"done"|"rest"}
 */
function kindOf(context) {
  const { bundle, days } = context;
  if (!bundle || days.length === 0) return "none";
  if (days.every((day) => day.isHeldNow)) return "held";
  if (context.awaitsReport) return "after_report";
  if (days.some((day) => day.isOffered)) return "offered";
  if (days.some((day) => day.isHeldNow)) return "held";
  if (days.some((day) => day.hasEnded)) return "ended";
  return days.some((day) => day.done > 0) ? "done" : "rest";
}

/** An arm that is stopped is named beside what the other is asked. @param {Context} context @param {import("../edges/words.js").Words} words */
function heldArms({ days }, words) {
  const held = days.filter((day) => day.isHeldNow);
  const told = (/** @type {string} */ arm) => words.fill("session.held_arm", { arm: words.say(`arm.${arm}`) });
  return held.map(({ arm }) => fillSlots(piece("session_held_arm"), { arm: told(arm) }));
}

/**
 * @param {Context} context
 * @param {import("../pure/timeline.js").Step[]} steps
 * @param {import("../edges/words.js").Words} words
 */
function aside({ days }, steps, words) {
  const [day] = days.filter((each) => each.isOffered);
  const length = words.plural("dose.minutes", Math.max(1, Math.round(totalMs(steps) / 60_000)));
  return day.asked > 1 ? words.fill("session.one_of", { number: day.done + 1, asked: day.asked, length }) : length;
}

/**
 * Arms with one and the same dose and reason are told once.
 * @param {DocumentFragment} node
 * @param {Context} context
 * @param {import("../pure/timeline.js").Step[]} steps what is played, none on a day that offers nothing
 * @param {import("../edges/words.js").Words} words
 */
function drawDoses(node, { bundle, days }, steps, words) {
  const asked = days.map((day) => (steps.length ? { ...day, dose: playedDose(day.dose, day.arm, steps) } : day));
  const shown = asked.filter(({ dose }) => dose);
  const isOne = shown.every(({ dose }) => JSON.stringify(dose) === JSON.stringify(shown[0].dose));
  const told = isOne ? shown.slice(0, 1) : shown;
  /** @param {string} arm */
  const heading = (arm) => {
    if (days.length === 1) return null;
    return words.say(isOne && shown.length > 1 ? "session.both_arms" : `arm.${arm}`);
  };
  one(node, "[data-doses]").append(...told.map(({ arm, dose }) => drawDose(words, bundle, dose, arm, heading(arm))));
  const reasons = [...new Set(told.flatMap((day) => day.why))].map((rule) => bundle.why[rule]).filter(Boolean);
  fillSlots(node, { why: reasons.length ? words.fill("dose.why", { reason: reasons.join(" ") }) : null });
}

/** @param {Context} context @param {import("../edges/words.js").Words} words what is done of a day that is not */
function saved({ days }, words) {
  const told = days.filter(({ done }) => done > 0);
  const isAlike =
    told.length === days.length &&
    told.every(({ done, asked }) => `${done}${asked}` === `${told[0].done}${told[0].asked}`);
  if (isAlike) return words.fill("session.saved", { done: told[0].done, asked: told[0].asked });
  const lines = told.map(({ arm, done, asked }) =>
    words.fill("session.saved_arm", { arm: words.say(`arm.${arm}`), done, asked }),
  );
  return lines.length ? lines.join(" ") : null;
}

/**
 * @param {Context} context
 * @param {import("../edges/words.js").Words} words
 */
function worst({ days }, words) {
  const rated = days.filter((day) => day.facts.during !== null);
  const lines = rated.map((day) =>
    words.fill("session.worst", { arm: words.say(`arm.${day.arm}`), worst: day.facts.during ?? 0 }),
  );
  return lines.length ? lines.join(" ") : null;
}
