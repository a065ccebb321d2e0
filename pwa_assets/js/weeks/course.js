/**
 * The whole course, read some weeks at a time and the latest first, so that a long one keeps no frame waiting.
 *
 * @typedef {import("../pure/weeks/past_days.js").PastDay} PastDay
 * @typedef {{days: PastDay[], isWhole: boolean, lasting: import("../pure/dose/daybook.js").Event[]}} Course lasting: what counts for good; days: without a gap, the last one today, or the day of the end; isWhole: whether they begin with the first day
 */

import { afterPaint } from "../parts/pieces.js";
import { addDays } from "../pure/calendar/local_day.js";
import { firstDay } from "../pure/dose/daybook.js";
import { courseOn } from "../pure/dose/set_course.js";
import { pastDays } from "../pure/weeks/past_days.js";

/** What a slow phone reads and counts between two frames. */
const DAYS_AT_ONCE = 7;

/**
 * @param {import("../main.js").Edges} edges
 * @param {import("../wire.js").Bundle} bundle
 * @param {(course: Course) => void} tell called with ever more days, once with none where there is no first day
 * @param {AbortSignal} signal
 */
export async function readCourse({ store, clock }, bundle, tell, signal) {
  const lasting = await store.lasting();
  const [first, today] = [firstDay(lasting), lastDay(lasting, clock.today())];
  /** @type {PastDay[]} */
  let days = [];
  if (!first) return tell({ days, isWhole: true, lasting });
  for (let to = today; to >= first; to = addDays(days[0].on, -1)) {
    const [begin] = [first, addDays(to, 1 - DAYS_AT_ONCE)].sort().reverse();
    const events = [...lasting, ...(await store.about(begin, to))];
    if (signal.aborted) return;
    days = [...pastDays(bundle, events, first, begin, to), ...days];
    tell({ days, isWhole: begin === first, lasting });
    await painted();
  }
  if (days.length === 0) tell({ days, isWhole: true, lasting });
}

/** @param {import("../pure/dose/daybook.js").Event[]} lasting @param {string} today @returns {string} today; once the course has ended, the day of the end */
function lastDay(lasting, today) {
  const { to, since } = courseOn(lasting, today);
  return to === "ended" && since ? since : today;
}

/** @returns {Promise<void>} */
const painted = () => new Promise((resolve) => afterPaint(resolve));
