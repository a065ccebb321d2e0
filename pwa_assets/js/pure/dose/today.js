/**
 * Today for each arm: what is asked, what is done, and the session to play. It only looks up and counts.
 *
 * @typedef {import("./course.js").Day & {arm: string, facts: import("./almanac.js").Facts,
 *   yesterday: import("./almanac.js").Facts, sessionsAsked: number, done: number, isOffered: boolean,
 *   wait?: import("./between_sessions.js").Wait|null, isRating?: boolean}} ArmDay wait: why the next session is better left for now
 *   isRating: a session of today is over, and the client is asked for its rating
 */

import { addDays } from "../calendar/local_day.js";
import { countedUnder, doseOf, NOTHING_YET, nextOf, responseOf } from "./almanac.js";
import { follow } from "./course.js";
import { factsOf, releasesOf } from "./daybook.js";

/**
 * @param {import("../../wire.js").Bundle} bundle
 * @param {Record<string, import("./course.js").Anchor>} anchors by arm
 * @param {import("./daybook.js").Event[]} events
 * @param {string} today
 * @returns {ArmDay[]} in the bundle's order of arms
 */
export function armDays(bundle, anchors, events, today) {
  return bundle.arms
    .filter((arm) => anchors[arm])
    .map((arm) => {
      const byDay = factsOf(events, arm);
      const day = follow(bundle, anchors[arm], byDay, today, releasesOf(bundle, events, arm));
      const facts = byDay.get(today) ?? NOTHING_YET;
      const yesterday = byDay.get(addDays(today, -1)) ?? NOTHING_YET;
      const sessionsAsked = day.dose.mode === "training" ? day.dose.sessions + (facts.warmed ?? 0) : 0;
      const isOffered = facts.sessions < sessionsAsked && !day.hasEnded && !day.isHeldNow && hasSheet(day.dose);
      return { ...day, arm, facts, yesterday, sessionsAsked, done: facts.sessions, isOffered };
    });
}

/**
 * Return whether an arm was sore on each of the last days before yesterday, so that this morning's report asks for more than soreness.
 * @param {import("../../wire.js").Bundle} bundle
 * @param {Pick<ArmDay, "responses">} day
 * @returns {boolean}
 */
export function isLongSore({ asks }, { responses }) {
  const before = asks ? responses.slice(0, -1).slice(-asks.sore_days) : [];
  return before.length > 0 && before.length === asks.sore_days && before.every((each) => asks.sore.includes(each));
}

/**
 * Return whether this morning's report can still change an arm's dose of today.
 * @param {import("../../wire.js").Bundle} bundle
 * @param {import("./course.js").Anchor} anchor
 * @param {import("./daybook.js").Event[]} events
 * @param {string} today
 * @param {string} arm
 * @returns {boolean}
 */
export function dependsOnMorning(bundle, anchor, events, today, arm) {
  const byDay = factsOf(events, arm);
  const releases = releasesOf(bundle, events, arm);
  const yesterday = addDays(today, -1);
  const facts = byDay.get(yesterday) ?? NOTHING_YET;
  if (facts.morning !== null || facts.sharp) return false;
  const doses = new Set();
  for (let pain = 0; pain <= 10; pain += 1) {
    const supposed = new Map(byDay).set(yesterday, { ...facts, morning: pain });
    // A release cannot cover a sharp morning that is not reported yet.
    const isSharp = responseOf(bundle, { ...NOTHING_YET, morning: pain }, null) === "sharp";
    const counting = isSharp ? new Map([...releases].filter(([on]) => on < today)) : releases;
    doses.add(follow(bundle, anchor, supposed, today, counting).dose);
  }
  return doses.size > 1;
}

/**
 * The steps of one arm's session.
 * @param {import("../../wire.js").Bundle} bundle
 * @param {import("../../wire.js").Dose} dose
 * @returns {import("../../wire.js").Step[]} none where the dose asks for no session
 */
function sheetOf(bundle, dose) {
  return dose.sheet === null ? [] : bundle.sheets[dose.sheet].map((index) => bundle.steps[index]);
}

/**
 * Return the session that today offers, with the steps of its arms joined; null where none is offered. An arm that should wait for
 * its next session is left out, unless no other arm is offered one.
 * @param {import("../../wire.js").Bundle} bundle
 * @param {ArmDay[]} days
 * @param {string} today
 * @returns {(import("../session/run.js").Plan & {arms: {isFirst: boolean, isAfterSport: boolean}[]})|null}
 *   isFirst: no session of the arm is done today; isAfterSport: only the warm-up before sport is done
 */
export function planOf(bundle, days, today) {
  const offered = days.filter((day) => day.isOffered);
  const ready = offered.filter(({ wait }) => !wait);
  const arms = (ready.length ? ready : offered).map(({ arm, dose, done, facts }) => {
    const isAfterSport = done > 0 && done === facts.warmed;
    return { arm, dose, sheet: sheetOf(bundle, dose), isFirst: done === 0, isAfterSport };
  });
  if (arms.length === 0) return null;
  const steps = joinSheets(bundle, arms);
  const { routine, hash, rep_work } = bundle;
  return { on: today, routineVersion: routine.version, bundleHash: hash, arms, steps, repWork: rep_work };
}

/**
 * @param {import("../../wire.js").Bundle} bundle
 * @param {{arm: string, sheet: import("../session/timeline.js").SheetStep[]}[]} arms in the order in which they work
 * @returns {import("../session/timeline.js").Step[]} their steps, with a change of arm between the arms; each step names its arm
 */
export function joinSheets(bundle, arms) {
  return arms.flatMap(({ arm, sheet }, index) => {
    const change = index > 0 && bundle.change_arm[arm] ? [bundle.change_arm[arm]] : [];
    const isLast = index === arms.length - 1;
    const own = sheet.filter((step) => isLast || step.kind !== "done");
    return [...change, ...own].map((step) => ({ ...step, arm }));
  });
}

/**
 * Return tomorrow's dose for supposed facts of today.
 * @param {import("../../wire.js").Bundle} bundle
 * @param {{position: import("./almanac.js").Position, dose: import("../../wire.js").Dose, before: number|null}} day
 * @param {import("./almanac.js").Facts} facts of today; `morning` is tomorrow's report
 * @returns {{response: string, dose: import("../../wire.js").Dose, why: string[]}}
 */
export function tomorrowIf(bundle, day, facts) {
  const response = responseOf(bundle, countedUnder(day.dose, facts), day.before);
  const { position, why } = nextOf(bundle, day.position, response);
  return { response, dose: doseOf(bundle, position), why };
}

/** @param {import("../../wire.js").Dose} dose */
function hasSheet(dose) {
  return dose.sheet !== null && dose.sheet !== undefined;
}
