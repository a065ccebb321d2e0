/**
 * Decides a day by look-up only: the cube gives the response, the almanac the next row, the row its dose. No dosing rule is here.
 * All tables come from the bundle that the server built. A fact that the tables do not know throws a RangeError.
 *
 * @typedef {"none"|"part"|"enough"} Done how much of a day's asked work was done
 * @typedef {{sessions: number, warmed?: number, done: Done, during: number|null, isUnrated: boolean,
 *   morning: number|null, sharp: boolean, sport?: Sport|null, isNearSport?: boolean}} Facts sessions: those with at least one rep; morning: of
 *   the day after; sport: on the way back, whose worst counts in `during`; isNearSport: on this day nothing else goes up
 * @typedef {{minutes: number, worst: number|null, isUnrated: boolean, hasSteppedUp: boolean, amount: string, strokes: number|null}} Sport
 * @typedef {{row: number, gapDays: number, gapRung: number}} Position row: of the table; gapDays: the days in a row
 *   without a session; gapRung: the rung on which they began, 0 for none
 * @typedef {{position: Position, why: string[]}} Start the position at the start of a day, and the rules that led to it
 * @typedef {{rung: number, range: number}} Return the rung and range at which the practice lets a held arm return
 */

const DONE = ["none", "part", "enough"];
const RATINGS = 12;

/** @type {Facts} */
export const NOTHING_YET = { sessions: 0, done: "none", during: null, isUnrated: false, morning: null, sharp: false };

/**
 * Return how a day went.
 * @param {import("../../wire.js").Bundle} bundle
 * @param {Facts} facts of that day
 * @param {number|null} before the lowest rating of three mornings: of that day and of the two days before it
 * @returns {string} one of the almanac's responses
 */
export function responseOf(bundle, facts, before) {
  if (facts.sharp) return "sharp";
  const response = cellOf(bundle, facts, before);
  const isCalm = response === "settled" || response === "partly";
  return facts.isUnrated && isCalm ? cellOf(bundle, { ...facts, during: null }, before) : response;
}

/** @param {import("../../wire.js").Bundle} bundle @param {Facts} facts @param {number|null} before @returns {string} */
function cellOf({ cube, almanac }, { done, during, morning }, before) {
  const ratings = [during, morning, before].map(axis);
  const cell = ratings.reduce((at, rating) => at * RATINGS + rating, DONE.indexOf(done));
  const response = almanac.letters[cube[cell]];
  if (!response) throw new RangeError(`cube cell ${cell} holds no response`);
  return response;
}

/** @param {number|null} rating @returns {number} */
const axis = (rating) => (rating === null ? 0 : rating + 1);

/**
 * Return a day's facts as they count under its dose: on a day that asks for no session, or near sport, 'enough' counts as 'part'.
 * @param {{mode: string}} dose
 * @param {Facts} facts
 * @returns {Facts}
 */
export function countedUnder({ mode }, facts) {
  return (mode !== "training" || facts.isNearSport) && facts.done === "enough" ? { ...facts, done: "part" } : facts;
}

/** @type {WeakMap<number[], number[]>} */
const opened = new WeakMap();

/**
 * @param {number[]} distances a column as on the wire: each number is the difference from the row before it
 * @returns {number[]} the rows
 */
function rowsOf(distances) {
  const known = opened.get(distances);
  if (known) return known;
  let at = 0;
  const rows = distances.map((distance) => (at += distance));
  opened.set(distances, rows);
  return rows;
}

/**
 * @param {number[]|undefined} distances a column of the table
 * @param {number} row
 * @returns {number} the row that follows
 */
function follower(distances, row) {
  const next = distances && rowsOf(distances)[row];
  if (next === undefined) throw new RangeError(`almanac has no row after ${row}`);
  return next;
}

/**
 * Return the start of the next day after a response.
 * @param {import("../../wire.js").Bundle} bundle
 * @param {Position} position
 * @param {string} response
 * @returns {Start}
 */
export function nextOf({ almanac }, position, response) {
  const column = almanac.responses.indexOf(response);
  const row = follower(almanac.next[column], position.row);
  const why = almanac.whys[almanac.why[position.row]][column];
  if (!almanac.idle.includes(response) || almanac.mode[row] === "held") return { position: withoutGap(row), why };
  const days = almanac.gap.by_day;
  const gapDays = Math.min(position.gapDays + 1, days.length - 1);
  const began = position.gapRung || almanac.rung[position.row];
  const { after, reason } = afterGap(almanac, row, gapDays, began);
  const gapRung = gapDays >= days.indexOf("half") ? 0 : began;
  return { position: { row: after, gapDays, gapRung }, why: withGap(almanac, row, why, reason) };
}

/** @param {number} row @returns {Position} */
const withoutGap = (row) => ({ row, gapDays: 0, gapRung: 0 });

/**
 * Apply a day of a gap to the row that the day's response leads to.
 * @param {import("../../wire.js").Almanac} almanac
 * @param {number} row
 * @param {number} gapDays this day included
 * @param {number} began the rung on which the gap began
 * @returns {{after: number, reason: string}}
 */
function afterGap({ gap, rung }, row, gapDays, began) {
  const name = gap.by_day[gapDays];
  if (!name) return { after: row, reason: gap.reasons.resume };
  let after = follower(gap.columns[name === "half" ? "slow" : name], row);
  const rungsDown = name === "half" ? rung[row] - gap.half_way[began - 1] : 0;
  for (let left = rungsDown; left > 0; left -= 1) after = follower(gap.columns.down, after);
  return { after, reason: gapReason(gap, name, rung[row] - rung[after]) };
}

/** @param {import("../../wire.js").Gap} gap @param {string} name of its column @param {number} rungsDown @returns {string} */
function gapReason({ reasons }, name, rungsDown) {
  if (rungsDown <= 0) return reasons.streak;
  return reasons[name] ?? reasons[rungsDown === 1 ? "one" : "two"];
}

/**
 * Join the reasons of a day and of its gap. The reason 'a gap changed nothing' is used only where there is no other reason.
 * @param {import("../../wire.js").Almanac} almanac
 * @param {number} row after the day's own rule
 * @param {string[]} why
 * @param {string} reason
 * @returns {string[]}
 */
function withGap({ gap, mode }, row, why, reason) {
  if (reason !== gap.reasons.resume) return [...why, reason];
  return why.length || mode[row] !== "training" ? why : [reason];
}

/**
 * @param {import("../../wire.js").Bundle} bundle
 * @param {Position} position
 * @returns {import("../../wire.js").Dose} the dose that its row asks
 */
export function doseOf(bundle, { row }) {
  return bundle.doses[bundle.almanac.dose[row]];
}

/**
 * Apply the practice's release to the start of a day. Only a held row can be released, and at most to its offer. The offers are
 * sorted from the most to the least: the first offer counts whose rung is not higher and whose range is not wider than chosen.
 * @param {import("../../wire.js").Bundle} bundle
 * @param {Start} start
 * @param {Return|undefined} chosen
 * @returns {Start}
 */
export function releasedFrom({ almanac, ranges }, start, chosen) {
  const { row } = start.position;
  if (!chosen || almanac.mode[row] !== "held") return start;
  /** @type {[number, number, number][]} */
  const offers = almanac.release.offers[almanac.release.of[row]];
  const ease = ranges.indexOf(chosen.range);
  const fitting = offers.find((offer) => offer[0] <= chosen.rung && offer[1] >= ease);
  const [, , after] = fitting ?? offers[offers.length - 1];
  return { position: withoutGap(after), why: ["released"] };
}
