/**
 * The session on the day page: what is asked and why; on a day without a session, the reason.
 */

import { drawDose } from "../dose/view.js";
import { drawWho } from "../letters/who.js";
import { fillSlots, find, onAct, piece } from "../parts/pieces.js";
import { isBeforeAll } from "../pure/dose/daybook.js";
import { playedDose } from "../pure/session/played_dose.js";
import { totalMs } from "../pure/session/timeline.js";
import { shaped } from "../pure/session/ways.js";
import { startAtOnce } from "../session/one_tap.js";
import { waysText } from "../session/ways.js";
import * as between from "./between.js";
import { shouldBeSeen } from "./who.js";

/** @typedef {import("./page.js").Context} Context */

/**
 * @param {Context} context
 * @returns {any}
 */
export function seen(context) {
  if (["held", "finished"].includes(kindOf(context))) return null;
  const days = context.days.map(({ arm, position, done, why, changed, isHeldNow, hasEnded, facts }) => ({
    arm,
    position,
    done,
    why,
    changed,
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
    awaitsReport: context.awaitsReport,
    ways: context.ways,
    isHeard: context.isHeard,
    isFirst: isBeforeAll(context),
    who: context.days.some(shouldBeSeen) ? context.practitioner : null,
    between: kindOf(context) === "between" ? between.seen(context) : null,
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
  part.toggleAttribute("data-first", kind === "offered" && isBeforeAll(context));
  const steps = kind === "offered" ? stepsOf(context) : [];
  find(part, "[data-aside]").textContent = kind === "offered" ? aside(context, steps, words) : "";
  if (kind === "offered") fillSlots(node, { unknown: between.unknownText(context, words) });
  if (kind === "none") fillSlots(node, { text: words.say("routine.none") });
  if (kind === "offered" || kind === "rest") drawDoses(node, context, steps, words);
  if (kind === "done" || kind === "ended") fillSlots(node, { worst: worst(context, words) });
  if (kind === "done") showDone(node, context);
  if (kind === "rest") find(node, "[data-unasked]").hidden = context.days.every(({ done }) => done === 0);
  if (context.days.some(shouldBeSeen)) node.append(...drawWho(words, context.practitioner));
  if (kind === "offered" || kind === "after_report") fillSlots(node, { saved: saved(context, words) });
  if (kind === "offered") {
    find(node, "[data-begin]").hidden = Boolean(context.run);
    drawStart(node, context, edges, signal);
  }
  if (kind === "between") between.fill(node, context, edges, signal);
  if (kind === "free") drawFree(node, context, edges, signal);
  if (kind === "after_report") onAct(node, "skip", context.skipReport, signal);
  find(part, "[data-body]").replaceChildren(node);
}

/** @param {Context} context of a day that offers a session @returns {import("../pure/session/timeline.js").Step[]} what Start will play */
function stepsOf({ bundle, plan, ways }) {
  return plan ? shaped(bundle, plan, ways).steps : [];
}

/**
 * Start begins the session at once. Until the sound has been checked on this phone, it opens the session's own page first.
 * @param {DocumentFragment} node
 * @param {Context} context
 * @param {import("../main.js").Edges} edges
 * @param {AbortSignal} signal
 */
function drawStart(node, context, edges, signal) {
  const look = () => edges.go("#session");
  fillSlots(node, { ways: waysText(edges.words, context.ways) });
  onAct(node, "start", context.isHeard ? () => startAtOnce(edges, context) : look, signal);
  onAct(node, "ways", look, signal);
}

/** A free day offers the session all the same, once the morning that may change it is told. @param {DocumentFragment} node @param {Context} context @param {import("../main.js").Edges} edges @param {AbortSignal} signal */
function drawFree(node, context, edges, signal) {
  const mayStart = Boolean(context.plan) && !context.run;
  find(node, "[data-first-report]").hidden = !context.awaitsReport || !mayStart;
  find(node, '[data-act="all_the_same"]').hidden = context.awaitsReport || !mayStart;
  onAct(node, "all_the_same", () => (context.isHeard ? startAtOnce(edges, context) : edges.go("#session")), signal);
}

/**
 * @param {Context} context
 * @returns {"none"|"held"|"finished"|"free"|"after_away"|"after_report"|"between"|"offered"|"ended"|"done"|"rest"} held: every arm is held, and another part of the page says so;
 *   finished: the course is ended, or the practitioner lets the arm rest until a day; free: maintenance asks for nothing today; between: one session of today is done, and the next is better left for now
 */
function kindOf(context) {
  const { bundle, days, course } = context;
  if (!bundle || days.length === 0) return "none";
  if (days.every((day) => day.isHeldNow)) return "held";
  const isResting = days.some(({ dose, isHeldNow }) => !isHeldNow && dose.mode === "resting");
  if (["rest", "ended"].includes(course.to) && !isResting) return "finished";
  if (course.isFree) return "free";
  if (context.absence?.isLong) return "after_away";
  if (context.awaitsReport) return "after_report";
  const offered = days.filter((day) => day.isOffered);
  if (offered.length) return offered.every(({ wait }) => wait && !wait.isUnknown) ? "between" : "offered";
  if (days.some((day) => day.hasEnded)) return "ended";
  return days.some(isDone) ? "done" : "rest";
}

/** Only a training day asks for a session, so only there a session counts as done. @param {Context["days"][number]} day */
const isDone = ({ done, dose }) => done > 0 && dose.mode === "training";

/** Says 'done' only where every arm did enough of its work; else 'done in part'. @param {DocumentFragment} node @param {Context} context */
function showDone(node, { days }) {
  const isEnough = days.filter(isDone).every(({ facts }) => facts.done === "enough");
  find(node, "[data-whole]").hidden = !isEnough;
  find(node, "[data-in-part]").hidden = isEnough;
}

/**
 * @param {Context} context
 * @param {import("../pure/session/timeline.js").Step[]} steps
 * @param {import("../edges/screen/words.js").Words} words
 */
function aside({ days, plan }, steps, words) {
  const [day] = days.filter(({ arm }) => plan?.arms.some((each) => each.arm === arm));
  const length = words.plural("dose.minutes", Math.max(1, Math.round(totalMs(steps) / 60_000)));
  const { sessionsAsked, done } = day;
  return sessionsAsked > 1 ? words.fill("session.one_of", { number: done + 1, asked: sessionsAsked, length }) : length;
}

/**
 * Draws the doses. Where all arms have the same dose, it is drawn once.
 * @param {DocumentFragment} node
 * @param {Context} context
 * @param {import("../pure/session/timeline.js").Step[]} steps of the session to play; empty on a day that offers none
 * @param {import("../edges/screen/words.js").Words} words
 */
function drawDoses(node, context, steps, words) {
  const { bundle, days } = context;
  const here = days.filter(({ isHeldNow }) => !isHeldNow);
  const shown = here.flatMap(({ arm, dose }) => {
    const played = steps.length ? playedDose(dose, arm, steps) : dose;
    return played ? [{ arm, dose: played }] : [];
  });
  showWhy(node, context, words);
  const isAlike = shown.every(({ dose }) => JSON.stringify(dose) === JSON.stringify(shown[0].dose));
  const listed = isAlike ? shown.slice(0, 1) : shown;
  /** @param {string} arm */
  const heading = (arm) => {
    if (days.length === 1) return null;
    return words.say(isAlike && shown.length > 1 ? "session.both_arms" : `arm.${arm}`);
  };
  find(node, "[data-doses]").append(...listed.map(({ arm, dose }) => drawDose(words, bundle, dose, arm, heading(arm))));
}

/** Writes the reasons for today's dose above the drawings. Where the arms have different reasons, each arm is named. @param {DocumentFragment} node @param {Context} context @param {import("../edges/screen/words.js").Words} words */
function showWhy(node, { bundle, days, today }, words) {
  const perArm = days
    .filter(({ isHeldNow }) => !isHeldNow)
    .map(({ arm, why }) => ({ arm, reason: why.map((rule) => bundle.why[rule]).join(" ") }));
  const isAlike = days.length === perArm.length && perArm.every(({ reason }) => reason === perArm[0].reason);
  const lines = perArm.map(({ arm, reason }) =>
    isAlike ? words.fill("dose.why", { reason }) : words.fill("dose.why_arm", { arm: words.say(`arm.${arm}`), reason }),
  );
  const changes = days.filter((day) => !day.isHeldNow).flatMap((day) => lastChange(day, bundle, days, today, words));
  const all = [...new Set([...lines, ...changes])];
  find(node, "[data-why]").append(...all.map((text) => fillSlots(piece("sentence"), { text })));
}

/**
 * The last change of an arm's dose, where today brought no change. The arm is named unless all arms changed alike.
 * @param {import("../pure/dose/today.js").ArmDay} day
 * @param {import("../wire.js").Bundle} bundle
 * @param {Context["days"]} days
 * @param {string} today
 * @param {import("../edges/screen/words.js").Words} words
 * @returns {string[]}
 */
function lastChange({ arm, why, changed }, bundle, days, today, words) {
  if (!changed || changed.on >= today) return [];
  // Leave out the reasons that today has too, unless no other reason is left.
  const others = changed.why.filter((rule) => !why.includes(rule));
  const reason = (others.length ? others : changed.why).map((rule) => bundle.why[rule]).join(" ");
  const gaps = { day: words.day(changed.on), reason };
  const said = JSON.stringify([why, changed]);
  const isCommon = days.every((other) => JSON.stringify([other.why, other.changed]) === said);
  if (isCommon) return [words.fill("dose.changed", gaps)];
  return [words.fill("dose.changed_arm", { ...gaps, arm: words.say(`arm.${arm}`) })];
}

/** @param {Context} context @param {import("../edges/screen/words.js").Words} words how many of today's sessions are saved so far */
function saved({ days }, words) {
  const begun = days.filter(({ done }) => done > 0);
  const gapsOf = (/** @type {Context["days"][number]} */ day) => ({ done: day.done, asked: day.sessionsAsked });
  const [first] = begun.map(gapsOf);
  const isAlike =
    begun.length === days.length &&
    begun.map(gapsOf).every(({ done, asked: most }) => done === first.done && most === first.asked);
  if (isAlike) return words.fill("session.saved", first);
  const lines = begun.map((day) =>
    words.fill("session.saved_arm", { arm: words.say(`arm.${day.arm}`), ...gapsOf(day) }),
  );
  return lines.length ? lines.join(" ") : null;
}

/**
 * @param {Context} context
 * @param {import("../edges/screen/words.js").Words} words
 */
function worst({ days }, words) {
  const rated = days.filter((day) => day.facts.during !== null);
  const lines = rated.map((day) =>
    words.fill("session.worst", { arm: words.say(`arm.${day.arm}`), worst: day.facts.during ?? 0 }),
  );
  return lines.length ? lines.join(" ") : null;
}
