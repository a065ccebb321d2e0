/** The way back in words: what is possible today and why, and when the next step can come. */

import { addDays } from "../pure/calendar/local_day.js";
import { isUnrated } from "../pure/returning/outing.js";
import { nextFree } from "../pure/returning/way.js";

/**
 * @typedef {{today: string, bundle: import("../wire.js").Bundle, days: readonly {isHeldNow: boolean, hasEnded: boolean}[], way: import("../wire.js").WayStart,
 *   standing: import("../pure/returning/way.js").Standing, ladder: import("../wire.js").WayLadder, asking: ReturnType<typeof import("../pure/returning/outing.js").asksAbout>}} Shown
 */

/** @param {import("../edges/screen/words.js").Words} words @param {Shown} shown @returns {Record<string, string|null>} */
export function slotsOf(words, shown) {
  const { ladder, standing, way } = shown;
  const about = { name: ladder.name, step: standing.step, steps: ladder.steps.length };
  return {
    about: words.fill("returning.about", about),
    ...today(words, shown),
    ...next(words, shown),
    asks: words.say(asksFor(shown)),
    caution: ladder.caution,
    strokes: words.fill("returning.counted", { strokes: ladder.strokes }),
    text: ladder.text,
    by: words.fill("returning.by", { by: way.by, day: words.day(way.opened) }),
    reason: way.reason,
  };
}

/** @param {import("../edges/screen/words.js").Words} words @param {Shown} shown */
function today(words, { today: on, bundle, days, standing, ladder, asking }) {
  const table = bundle.way;
  const { minutes, most_strokes: most, adds } = ladder.steps[standing.step - 1];
  const mode = table.mode[standing.point.row];
  const isNoted = asking.noted !== null && asking.on === on;
  const isHeld = days.some(({ isHeldNow }) => isHeldNow);
  const state = isNoted
    ? "done"
    : standing.isAllowed
      ? "yes"
      : mode === "open" || mode === "waiting" || mode === "resting"
        ? "no"
        : "over";
  const isSpent = !isHeld && days.some(({ hasEnded }) => hasEnded);
  const isFull = !standing.isAllowed && !isHeld && !isSpent && mode === "open";
  const stop = isHeld ? "returning.held" : isSpent ? "returning.spent" : isFull && !isNoted ? "returning.full" : null;
  const free = isFull ? nextFree(table, ladder, standing, on) : on;
  const strokes = most ? "returning.most_strokes" : "returning.most";
  const isShown = standing.isAllowed || isNoted;
  return {
    state: words.say(`returning.${state}`),
    most: isShown ? words.fill(strokes, { minutes, most, strokes: ladder.strokes }) : null,
    adds: isShown ? adds : null,
    why: stop ? words.say(stop) : standing.why.map((rule) => table.says[rule] ?? "").join(" "),
    from: isFull && !isNoted ? words.fill("returning.from", { day: words.day(free) }) : null,
  };
}

/** @param {import("../edges/screen/words.js").Words} words @param {Shown} shown */
function next(words, { today: on, bundle, standing, ladder }) {
  const table = bundle.way;
  const { step, point } = standing;
  const isHigher = step > point.step;
  const after = ladder.steps[step];
  if (!after) return { next: words.say("returning.last"), when: null, apart: null };
  const { days_a_week: days, minutes, adds } = after;
  const settled = isHigher ? 0 : table.settled[point.row];
  const left = table.step_days - (isHigher ? 0 : table.days[point.row]);
  const outings = ladder.steps[step - 1].days_a_week;
  const isPassed = table.passed[outings][point.row] === "1" && !isHigher;
  return {
    next: words.fill("returning.next", { step: step + 1, minutes, days, adds }),
    when: words.fill("returning.when", { asked: outings, settled, day: words.day(addDays(on, left)) }),
    apart: isPassed && !standing.isClear ? words.say("returning.apart") : null,
  };
}

/** @param {Shown} shown */
function asksFor({ today: on, asking, standing }) {
  if (asking.noted && asking.on < on && isUnrated(asking.noted)) return "returning.asks_yesterday";
  return standing.isAllowed || asking.noted ? "returning.asks" : "returning.asks_all_the_same";
}
