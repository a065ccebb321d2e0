/**
 * The way back to a sport or to work, looked up day by day in the bundle's table. No rule is here: the table says what follows from what.
 * It mirrors the server's `sync/returning.py`.
 *
 * @typedef {import("../../wire.js").Way} Table
 * @typedef {import("../../wire.js").WayStart} WayStart
 * @typedef {{step: number, row: number, lately: number, away: number, flare: number}} Point
 * @typedef {{point: Point, why: string[], isClear: boolean, step: number, isAllowed: boolean, isFirstOfStep: boolean}} Standing
 *   step: of sport today; isFirstOfStep: sport today would be the first of the way back, or of a higher step
 * @typedef {{minutes: number|null, feel: string, isBefore?: boolean, amount?: string, strokes?: number|null}} SportDay isBefore: of a day before the first
 * @typedef {import("../dose/today.js").ArmDay} ArmDay
 * @typedef {Map<string, import("../dose/almanac.js").Facts>} FactsByDay
 */

import { addDays, daysBetween } from "../calendar/local_day.js";
import { NOTHING_YET, responseOf } from "../dose/almanac.js";
import { factsOf } from "../dose/daybook.js";
import { moreOf } from "../dose/sport.js";

const LATELY_BITS = 63;
export const START = "return-start";

/**
 * @param {Record<string, import("../../wire.js").Anchor>} anchors
 * @param {string} today
 * @returns {WayStart|null} the way back that is open today; it is the same in each arm's anchor
 */
export function wayOf(anchors, today) {
  const way = Object.values(anchors).find((anchor) => anchor.way)?.way ?? null;
  return way && way.opened <= today ? way : null;
}

/**
 * Return where the way back stands today.
 * @param {import("../../wire.js").Bundle} bundle
 * @param {WayStart} way
 * @param {ArmDay[]} days of the arms
 * @param {import("../dose/daybook.js").Event[]} events
 * @param {string} today
 * @returns {Standing|null} null where this bundle does not have the ladder
 */
export function standOn(bundle, way, days, events, today) {
  const table = bundle.way;
  const ladder = table?.ladders[way.ladder];
  if (!ladder) return null;
  const arms = days.map((day) => ({ day, facts: factsOf(events, day.arm) }));
  let point = { step: way.step, row: way.row, lately: way.lately, away: way.away, flare: way.flare };
  let why = [START];
  for (let on = way.on; on < today; on = addDays(on, 1)) {
    const day = { ...dayOf(bundle, arms, on), isBefore: on < way.opened };
    const closed = closeDay(table, ladder, point, day, isClearOn(table, way, arms, on));
    ({ point, why } = closed);
  }
  const isClear = isClearOn(table, way, arms, today);
  const step = stepOn(table, ladder, point, isClear);
  const hasEnded = days.some(({ isHeldNow, hasEnded: isOver }) => isHeldNow || isOver);
  const isAllowed = !hasEnded && mayGo(table, ladder, point, isClear);
  const isFirst = step > point.step || point.away === daysBetween(way.opened, today);
  return { point, why, isClear, step, isAllowed, isFirstOfStep: isFirst };
}

/** @param {Table} table @param {import("../../wire.js").WayLadder} ladder @param {Point} point @param {boolean} isClear */
export function stepOn(table, ladder, { step, row }, isClear) {
  const isPassed = table.passed[ladder.steps[step - 1].days_a_week][row] === "1";
  return isClear && isPassed && step < ladder.steps.length ? step + 1 : step;
}

/** @param {Table} table @param {import("../../wire.js").WayLadder} ladder @param {Point} point @param {boolean} isClear */
function mayGo(table, ladder, point, isClear) {
  const { days_a_week: days } = ladder.steps[stepOn(table, ladder, point, isClear) - 1];
  return table.mode[point.row] === "open" && table.free[days][point.lately] === "1";
}

/**
 * Return the first day from a day on that leaves room for sport, where no other sport comes between.
 * @param {Table} table @param {import("../../wire.js").WayLadder} ladder @param {Standing} standing @param {string} from
 */
export function nextFree(table, ladder, { point, step }, from) {
  let [lately, on] = [point.lately, from];
  while (table.free[ladder.steps[step - 1].days_a_week][lately] !== "1") {
    lately = (lately << 1) & LATELY_BITS;
    on = addDays(on, 1);
  }
  return on;
}

/** @param {import("../../wire.js").Bundle} bundle @param {{day: ArmDay, facts: FactsByDay}[]} arms @param {string} on */
function dayOf(bundle, arms, on) {
  const feels = arms.flatMap(({ day, facts }) => {
    const past = day.past?.find((each) => each.on === on);
    return past ? [feelOf(bundle, facts.get(on) ?? NOTHING_YET, past)] : [];
  });
  const sports = arms.flatMap(({ facts }) => facts.get(on)?.sport ?? []);
  const { order } = bundle.way;
  const feel = order[Math.max(0, ...feels.map((each) => order.indexOf(each)))];
  if (!sports.length) return { minutes: null, feel };
  return { ...togetherIn(sports), feel };
}

/** @param {import("../dose/almanac.js").Sport[]} sports of the arms */
function togetherIn(sports) {
  const strokes = sports.flatMap((each) => each.strokes ?? []);
  return {
    minutes: Math.max(...sports.map(({ minutes }) => minutes)),
    amount: moreOf(sports.map(({ amount }) => amount)),
    strokes: strokes.length ? Math.max(...strokes) : null,
  };
}

/**
 * @param {import("../../wire.js").Bundle} bundle
 * @param {import("../dose/almanac.js").Facts} facts
 * @param {import("../dose/course.js").Past} past
 * @returns {string} how the day felt for one arm
 */
function feelOf(bundle, { sport, morning }, { response, before, cube }) {
  const { feels, flares } = bundle.way;
  if (flares.includes(feels[response])) return feels[response];
  const during = sport ? (sport.isUnrated ? null : sport.worst) : 0;
  const classing = cube ? { ...bundle, cube } : bundle;
  return feels[responseOf(classing, { ...NOTHING_YET, done: "enough", during, morning }, before)];
}

/** @param {Table} table @param {WayStart} way @param {{day: ArmDay}[]} arms @param {string} on @returns {boolean} whether nothing was raised within 72 hours */
function isClearOn(table, way, arms, on) {
  // What was raised before the day before the anchor only the server knows; from the anchor's day on the phone's own log says it.
  if (arms.every(({ day }) => day.past?.[0]?.on === on)) return way.is_clear;
  return !arms.some(({ day }) => {
    const changed = day.past?.find((each) => each.on === on)?.changed;
    return (
      changed && daysBetween(changed.on, on) < table.apart && changed.why.some((each) => table.raises.includes(each))
    );
  });
}

/** @param {number[]} distances @param {number} row */
function follower(distances, row) {
  let at = 0;
  for (let number = 0; number <= row; number += 1) at += distances[number];
  return at;
}

/**
 * @param {Table} table
 * @param {import("../../wire.js").WayLadder} ladder
 * @param {Point} point
 * @param {SportDay} day
 * @param {boolean} isClear
 */
export function closeDay(table, ladder, point, day, isClear) {
  const { minutes, feel, isBefore = false } = day;
  const outing = isBefore ? "before" : outingOf(table, ladder, point, day, isClear);
  const column = table.columns[`${outing}.${feel}${point.flare > 0 ? ".again" : ""}`];
  const rule = table.why[column][point.row];
  const step = moved(ladder, table.moves[rule], point.step + Number(outing === "up"));
  const row = follower(table.next[column], point.row);
  const why = [table.rules[rule]];
  const hasSport = minutes !== null;
  const lately = ((point.lately << 1) | Number(hasSport)) & LATELY_BITS;
  const flare = table.flares.includes(feel) ? table.flare_days : Math.max(0, point.flare - 1);
  const most = table.away[table.away.length - 1].days;
  const away = hasSport || isBefore ? 0 : Math.min(most, point.away + 1);
  const after = { step, row, lately, away, flare };
  return { ...afterAbsence(table, ladder, { point: after, why }, point.away), outing, feel };
}

/** @param {import("../../wire.js").WayLadder} ladder @param {number} move @param {number} step */
const moved = (ladder, move, step) => ladder.moves[move][step - 1];

/** @param {Table} table @param {import("../../wire.js").WayLadder} ladder @param {Point} point @param {SportDay} day @param {boolean} isClear */
function outingOf(table, ladder, point, { minutes, amount, strokes }, isClear) {
  if (minutes === null) return "none";
  const step = stepOn(table, ladder, point, isClear);
  const wanted = ladder.steps[step - 1];
  const isMore = isMoreThan(wanted, minutes, strokes ?? null) || amount === "more";
  if (isMore || !mayGo(table, ladder, point, isClear)) return "uncounted";
  if (minutes < wanted.least_minutes || amount === "fewer") return "fewer";
  return step > point.step ? "up" : "counted";
}

/** @param {import("../../wire.js").WayStep} wanted @param {number} minutes @param {number|null} strokes @returns {boolean} whether it is more than a step allows */
export const isMoreThan = (wanted, minutes, strokes) =>
  minutes > wanted.minutes || (wanted.most_strokes > 0 && (strokes ?? 0) > wanted.most_strokes);

/**
 * @param {Table} table
 * @param {import("../../wire.js").WayLadder} ladder
 * @param {{point: Point, why: string[]}} closed
 * @param {number} awayBefore
 */
function afterAbsence(table, ladder, { point, why }, awayBefore) {
  const absence = table.away.find(({ days }) => days === point.away && awayBefore < days);
  if (!absence || ["stopped", "away"].includes(table.mode[point.row])) return { point, why };
  const step = moved(ladder, absence.move, point.step);
  return { point: { ...point, step, row: follower(absence.next, point.row) }, why: [...why, absence.why] };
}
