/**
 * The days of one arm, from the anchor to today. The anchor is the last state that the server computed; the rest is a fold.
 *
 * @typedef {import("./almanac.js").Facts} Facts
 * @typedef {import("./almanac.js").Start} Start
 * @typedef {import("../../wire.js").Anchor} Anchor
 *   mornings: the reports of the three days before it, the oldest first; states: the row, the gap's days and its rung, for each
 *   response to the day before; why and changed: likewise; asked: false if the day before asked for nothing;
 *   cube: classes the day before, where the bundle's cube does not; if_troubled: states and why to use instead if the anchor's
 *   own day is a stop or a flare; present where the practice raised the rung by hand on that day
 * @typedef {import("../../wire.js").LastChange} Changed the last change of the dose: its first day, and its rules
 * @typedef {{position: import("./almanac.js").Position, dose: import("../../wire.js").Dose, why: string[], changed: Changed|null, responseYesterday: string, responses: string[],
 *   before: number|null, responseToday: string, isHeldNow: boolean, hasEnded: boolean, past?: Past[]}} Day
 *   responses: of the days from the one before the anchor to yesterday; past: the same days, and today without a response
 * @typedef {{on: string, response: string, before: number|null, changed: Changed|null, cube?: string}} Past changed: as of its start
 */

import { addDays, daysBetween } from "../calendar/local_day.js";
import { countedUnder, doseOf, NOTHING_YET, nextOf, releasedFrom, responseOf } from "./almanac.js";
import { asks } from "./dose_change.js";

/** How many mornings a day is compared with: its own, and those of the two days before it. */
const MORNINGS = 3;

/**
 * @param {import("../../wire.js").Bundle} bundle
 * @param {Anchor} anchor
 * @param {Map<string, Facts>} factsByDay
 * @param {string} today not before the anchor's day
 * @param {Map<string, import("./almanac.js").Return>} [releases] by the day at whose start a hold ends
 * @returns {Day}
 */
export function follow(bundle, anchor, factsByDay, today, releases = new Map()) {
  let { start, response, changed } = atStart(bundle, anchor, factsByDay, releases);
  let day = anchor.on;
  const eve = addDays(day, -1);
  const responses = [response];
  /** @type {Past[]} */
  const past = [
    { on: eve, response, before: lowestMorning(anchor, factsByDay, eve), changed: null, cube: anchor.cube },
  ];
  for (let left = daysBetween(day, today); left > 0; left -= 1) {
    const facts = countedUnder(doseOf(bundle, start.position), factsByDay.get(day) ?? NOTHING_YET);
    const lowest = lowestMorning(anchor, factsByDay, day);
    response = responseOf(bundle, facts, lowest);
    responses.push(response);
    past.push({ on: day, response, before: lowest, changed });
    day = addDays(day, 1);
    const next = nextOf(bundle, start.position, response);
    const isSame = asks(doseOf(bundle, next.position)) === asks(doseOf(bundle, start.position));
    start = releasedFrom(bundle, next, releases.get(day));
    if (!isSame || start !== next) changed = { on: day, why: start.why };
  }
  const before = lowestMorning(anchor, factsByDay, today);
  return {
    ...soFar(bundle, start, factsByDay.get(today) ?? NOTHING_YET, before),
    changed,
    responseYesterday: response,
    responses,
    past: [...past, { on: today, response: "", before, changed }],
  };
}

/**
 * Return the start of the anchor's own day. A rung that was raised by hand does not count if that day is a stop or a flare.
 * @param {import("../../wire.js").Bundle} bundle
 * @param {Anchor} anchor
 * @param {Map<string, Facts>} factsByDay
 * @param {Map<string, import("./almanac.js").Return>} releases
 */
function atStart(bundle, anchor, factsByDay, releases) {
  const calm = atAnchor(bundle, anchor, factsByDay, releases);
  if (!anchor.if_troubled) return calm;
  const facts = countedUnder(doseOf(bundle, calm.start.position), factsByDay.get(anchor.on) ?? NOTHING_YET);
  const own = responseOf(bundle, facts, lowestMorning(anchor, factsByDay, anchor.on));
  if (!bundle.ends_day.includes(own)) return calm;
  return atAnchor(bundle, { ...anchor, ...anchor.if_troubled }, factsByDay, releases);
}

/**
 * @param {import("../../wire.js").Bundle} bundle
 * @param {Anchor} anchor
 * @param {Map<string, Facts>} factsByDay
 * @param {Map<string, import("./almanac.js").Return>} releases applied here only after a sharp day: the phone knows
 *   entries that the server may not have
 * @returns {{start: Start, response: string, changed: Changed|null}}
 */
function atAnchor(bundle, anchor, factsByDay, releases) {
  const eve = addDays(anchor.on, -1);
  const classing = anchor.cube ? { ...bundle, cube: anchor.cube } : bundle;
  const facts = countedUnder(
    { mode: anchor.asked === false ? "resting" : "training" },
    factsByDay.get(eve) ?? NOTHING_YET,
  );
  const response = responseOf(classing, facts, lowestMorning(anchor, factsByDay, eve));
  const column = bundle.almanac.responses.indexOf(response);
  const [row, gapDays, gapRung] = anchor.states[column];
  const start = { position: { row, gapDays, gapRung }, why: anchor.why[column] };
  const changed = anchor.changed?.[column] ?? null;
  if (response !== "sharp") return { start, response, changed };
  const freed = releasedFrom(bundle, start, releases.get(anchor.on));
  return { start: freed, response, changed: freed === start ? changed : { on: anchor.on, why: freed.why } };
}

/**
 * Return what today's reports say before tomorrow's morning is known.
 * @param {import("../../wire.js").Bundle} bundle
 * @param {Start} start
 * @param {Facts} facts
 * @param {number|null} before
 */
function soFar(bundle, { position, why }, facts, before) {
  const dose = doseOf(bundle, position);
  const responseToday = responseOf(bundle, { ...countedUnder(dose, facts), morning: null }, before);
  return {
    position,
    dose,
    why,
    before,
    responseToday,
    isHeldNow: responseToday === "sharp" || dose.mode === "held",
    hasEnded: bundle.ends_day.includes(responseToday),
  };
}

/**
 * Return the lowest of the reports made on a day and on the two days before it. The anchor holds those that the log lacks.
 * @param {Anchor} anchor
 * @param {Map<string, Facts>} factsByDay
 * @param {string} day
 * @returns {number|null} null where there is none
 */
function lowestMorning({ on, mornings }, factsByDay, day) {
  const known = [];
  for (let back = 0; back < MORNINGS; back += 1) {
    const made = addDays(day, -back);
    const own = factsByDay.get(addDays(made, -1))?.morning ?? null;
    const morning = own ?? mornings[mornings.length - daysBetween(made, on)] ?? null;
    if (morning !== null) known.push(morning);
  }
  return known.length ? Math.min(...known) : null;
}
