/**
 * Checks whether an entry's body fits its kind. It mirrors the server's `events/codec.py`, check by check. Pure.
 *
 * @typedef {Record<string, any>} Body
 * @typedef {(value: any) => boolean} Check
 */

import { dayNumber, dayOfNumber, MINUTES_A_DAY } from "../calendar/local_day.js";

const UUID = /^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$/;
const DAY = /^\d{4}-\d{2}-\d{2}$/;
const ARMS = ["right", "left"];
const ENDINGS = ["completed", "stopped", "sharp"];
const WHYS = ["", "time", "discomfort", "tired", "interrupted", "other"];
const EASINGS = ["form", "range", "load", "reps", "leave"];
const WAYS = ["short", "before_sport", "both", "own_pace"];
const RANGES = [1, 0.75, 0.5];
const SHARP_PLACES = ["outer_elbow", "inner_elbow", "forearm", "wrist", "hand", "elsewhere"];
const SHARP_FEELS = ["stab", "catch", "electric", "burning", "gave_way", "other"];
const SEEN_BY = ["doctor", "physiotherapist", "other"];
const LEVELS = ["emergency", "same_day", "soon", "ask_first"];
const PLACES = ["outer_elbow", "inner_elbow", "forearm_back", "forearm_front", "wrist_back", "wrist_front"];
const OTHER_CARE = ["doctor", "physiotherapist", "injection", "medicine", "brace"];
const SEXES = ["female", "male", "unsaid"];
const EXPOSURES = ["sport", "lifting", "desk"];
const AWAYS = ["ill", "travelling", "sore", "no_time", "without_phone", "other"];
const HAPPENED = ["injury", "injection", "operation", "medicine", "fever"];
const COURSES = ["training", "maintenance", "rest", "ended"];
const GATE = ["no_flare", "mornings", "sessions", "own_activity", "not_too_soon", "clinician"];
const CLOCK = /^([01][0-9]|2[0-3]):[0-5][0-9]$/;
const MOST = 1_000_000_000;
/** Characters of a letter at most, counted in code points. */
export const LETTER_LENGTH = 1000;

/** @type {Check} */
const isObject = (value) => typeof value === "object" && value !== null && !Array.isArray(value);
/** @type {Check} */
const isTruth = (value) => typeof value === "boolean";
/** @type {Check} */
const isUuid = (value) => typeof value === "string" && UUID.test(value);
/** A day that exists, from the year 1 on. @type {Check} */
export const isDay = (value) =>
  typeof value === "string" && DAY.test(value) && value >= "0001" && dayOfNumber(dayNumber(value)) === value;
/** @param {number} low @param {number} high @returns {Check} */
const whole = (low, high) => (value) => Number.isInteger(value) && low <= value && value <= high;
/** @param {number} most @returns {Check} */
const numberTo = (most) => (value) => typeof value === "number" && 0 <= value && value <= most;
/** The length is counted in code points, as on the server. @param {number} most @returns {Check} */
const textTo = (most) => (value) => typeof value === "string" && [...value].length <= most;
/** @param {number} most @returns {Check} */
const filledTo = (most) => (value) => textTo(most)(value) && value !== "";
/** @param {any[]} allowed @returns {Check} */
const among = (allowed) => (value) => allowed.includes(value);
/** @param {number} most @param {Check} check of each entry @returns {Check} */
const listTo = (most, check) => (value) => Array.isArray(value) && value.length <= most && value.every(check);
/** @param {string[]} allowed @returns {Check} for at least one of them */
const someOf = (allowed) => (value) => listTo(allowed.length, among(allowed))(value) && value.length > 0;
/** @param {Check} check @returns {Check} for a field that may be missing but not null */
const ifThere = (check) => (value) => value === undefined || check(value);
/** @param {Check} check @returns {Check} for a field that may be missing or null */
const orNothing = (check) => (value) => value === undefined || value === null || check(value);
/** @param {Record<string, Check>} checks by field; further fields are not checked @returns {Check} */
const fields = (checks) => (value) => isObject(value) && Object.entries(checks).every(([name, is]) => is(value[name]));
/** @param {Check} check of the value of each arm @returns {Check} */
const byArm = (check) => (value) => {
  const arms = isObject(value) ? Object.entries(value) : [];
  return arms.length > 0 && arms.every(([arm, said]) => ARMS.includes(arm) && check(said));
};

const isSet = fields({
  movement: textTo(80),
  reps: whole(0, 1000),
  load_kg: numberTo(50),
  range: numberTo(1),
  share: whole(0, 1000),
});
const isAskedSet = fields({ movement: textTo(80), reps: whole(0, 1000), load_kg: numberTo(50), range: numberTo(1) });
const isArmPlayed = fields({
  worst: orNothing(whole(0, 10)),
  sharp: ifThere(isTruth),
  sets: listTo(20, isSet),
  dose: ifThere(fields({ sessions: whole(0, 24), sets: listTo(20, isAskedSet) })),
});
const isEasing = fields({ step: whole(0, 1000), what: among(EASINGS), movement: ifThere(textTo(80)) });
const isSeen = fields({ role: among(SEEN_BY), on: isDay });
const isArmReleased = fields({
  rung: whole(1, 1000),
  range: among(RANGES),
  covers: listTo(10_000, isUuid),
  reason: textTo(280),
  by: textTo(80),
  seen_by: ifThere(isSeen),
});
const areLettersNamed = fields({ letters: listTo(1000, isUuid) });
const isSharpSaid = fields({ where: among(SHARP_PLACES), like: among(SHARP_FEELS), sign: isTruth });
const isAway = fields({
  first: isDay,
  last: isDay,
  what: among(AWAYS),
  happened: ifThere(listTo(HAPPENED.length, among(HAPPENED))),
});

/** Sport on the way back says how each arm felt; other sport has no step. @type {Check} */
const isSport = (body) => body.step === undefined || isOnTheWay(body);
/** @type {Check} */
const isOnTheWay = fields({
  step: whole(1, 50),
  up: ifThere(isTruth),
  amount: ifThere(among(["fewer", "asked", "more"])),
  strokes: ifThere(whole(0, 10_000)),
  arms: (value) =>
    isObject(value) && Object.entries(value).every(([arm, felt]) => ARMS.includes(arm) && isArmInSport(felt)),
});
const isArmInSport = fields({ worst: (value) => value === null || whole(0, 10)(value), sharp: ifThere(isTruth) });
const isExposure = fields({
  what: among(EXPOSURES),
  minutes: orNothing(whole(0, MINUTES_A_DAY)),
  name: ifThere(textTo(80)),
  begins: ifThere((value) => typeof value === "string" && CLOCK.test(value)),
  planned: ifThere(isTruth),
});
const isWaySaid = fields({ reason: textTo(280), by: textTo(80) });
const isWayOpened = fields({
  ladder: textTo(40),
  step: whole(1, 50),
  gate: listTo(GATE.length, among(GATE)),
  ticked: ifThere(listTo(GATE.length, among(GATE))),
  seen_by: ifThere(isSeen),
});

const isCourse = fields({ to: among(COURSES), reason: textTo(280), by: textTo(80), seen_again_on: ifThere(isDay) });
/** @type {Record<string, Check>} what else each course must say */
const MORE_OF_COURSE = { maintenance: fields({ days_a_week: whole(2, 5) }), rest: fields({ until: isDay }) };

/** @type {Check} */
const isLeftOut = (value) => value === undefined;
/** @type {Record<string, Check>} what stands in a correction of each field of the intake; the name and the note are private */
const OF_INTAKE = {
  area: textTo(40),
  arms: listTo(ARMS.length, among(ARMS)),
  mass_kg: numberTo(300),
  height_m: numberTo(3),
  sex: among(SEXES),
  name: isLeftOut,
  note: isLeftOut,
};
/** @type {Check} */
const isChange = (value) =>
  isObject(value) &&
  Object.hasOwn(OF_INTAKE, value.field) &&
  fields({ was: OF_INTAKE[value.field], now: OF_INTAKE[value.field] })(value);

/** @type {Record<string, Check>} */
const CHECKS = {
  session_finished: fields({
    routine: whole(1, MOST),
    arms: byArm(isArmPlayed),
    asked_steps: whole(0, 1000),
    done_steps: whole(0, 1000),
    active_seconds: whole(0, 86_400),
    ended: among(ENDINGS),
    why: ifThere(among(WHYS)),
    note: ifThere(textTo(280)),
    ways: ifThere(listTo(WAYS.length, among(WAYS))),
    eased: ifThere(listTo(200, isEasing)),
    sharp_told: ifThere(isSharpSaid),
  }),
  morning_reported: fields({
    arms: byArm(fields({ pain: whole(0, 10), sharp: ifThere(isTruth), besides: ifThere(isTruth) })),
    late: ifThere(isTruth),
  }),
  away_noted: (body) => isAway(body) && body.first <= body.last,
  exposure_noted: (body) => isExposure(body) && isSport(body),
  habit_noted: fields({ habit: textTo(80), kept: isTruth, suits: ifThere(isTruth), chosen: ifThere(textTo(36)) }),
  letter_written: fields({ text: filledTo(LETTER_LENGTH) }),
  letter_answered: fields({ text: filledTo(LETTER_LENGTH), by: textTo(80) }),
  letter_seen: areLettersNamed,
  letter_read: areLettersNamed,
  routine_received: fields({ version: whole(1, MOST), bundle: ifThere(textTo(128)) }),
  note_read: fields({ version: whole(1, MOST) }),
  warning_raised: fields({
    sign: textTo(80),
    arms: (value) => Array.isArray(value) && value.length > 0 && value.every(among(ARMS)),
    holds: ifThere(isTruth),
  }),
  screening_answered: fields({ asked_list: textTo(64), reached: among(LEVELS), signs: listTo(100, textTo(80)) }),
  screening_cleared: fields({
    signs: (value) => listTo(100, textTo(80))(value) && value.length > 0,
    reason: textTo(280),
    by: textTo(80),
    seen_by: ifThere(isSeen),
  }),
  activities_named: fields({ activities: listTo(3, textTo(80)) }),
  activity_rated: fields({ activity: textTo(80), rating: whole(0, 10) }),
  intake_told: fields({
    arms: someOf(ARMS),
    places: someOf(PLACES),
    usual: whole(0, 10),
    activities: listTo(3, fields({ name: textTo(80), rating: whole(0, 10) })),
    weights_kg: listTo(12, numberTo(50)),
    sport_days: whole(0, 7),
    other_care: listTo(OTHER_CARE.length, among(OTHER_CARE)),
    mass_kg: ifThere(numberTo(300)),
    height_m: ifThere(numberTo(3)),
  }),
  intake_confirmed: fields({ by: textTo(80) }),
  intake_corrected: fields({
    changes: (value) => listTo(7, isChange)(value) && value.length > 0,
    reason: filledTo(280),
    by: textTo(80),
  }),
  entry_corrected: fields({ replaces: isUuid, body: orNothing(isObject) }),
  hold_released: fields({ arms: byArm(isArmReleased) }),
  habit_chosen: fields({ habit: textTo(80), by: textTo(80) }),
  course_set: (body) => isCourse(body) && (MORE_OF_COURSE[body.to] ?? isCourse)(body),
  return_opened: (body) => isWayOpened(body) && isWaySaid(body),
  return_ended: isWaySaid,
};

/**
 * @param {string} kind
 * @param {any} body
 * @returns {boolean} whether the body fits; for an unknown kind every object fits
 */
export function fitsKind(kind, body) {
  return isObject(body) && (!Object.hasOwn(CHECKS, kind) || CHECKS[kind](body));
}
