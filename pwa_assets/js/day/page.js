/**
 * The day page: one page for each day. Its parts stand in the order in which they are needed.
 *
 * @typedef {{today: string, now: number, bundle: import("../wire.js").Bundle, anchors: Record<string, import("../pure/dose/course.js").Anchor>,
 *   events: import("../pure/dose/daybook.js").Event[], run: any, days: import("../pure/dose/today.js").ArmDay[],
 *   start: import("../pure/arriving/start.js").Start, course: import("../pure/dose/set_course.js").CourseToday, waiting: number, lastSyncAt: number|null, link: string, isNewer: boolean,
 *   isKept: boolean|null, absence: import("../pure/dose/absence.js").Absence|null, putOffAway(): void,
 *   mornings: import("../pure/dose/absence.js").Morning[], practitioner: import("../wire.js").PractitionerShown|undefined,
 *   home: import("../edges/storage/room.js").HomeWay|null, putOffHome(): void, awaitsReport: boolean, skipReport(): void, reported(): void,
 *   plan: import("../pure/session/run.js").Plan|null, ways: import("../pure/session/ways.js").Ways, isHeard: boolean, activityPutOff?: number}} Context
 *   activityPutOff: the week of the course in which the client put off the question about an activity
 *   reported: call it when the morning is saved, so that the page then shows the answer
 *   isKept: whether the app and the routine are complete on this phone; home: how to install the app, null where that is not offered
 *   plan: what Start plays, in these ways; isHeard: false where the sound must be checked before
 */

import * as tomorrow from "../dose/tomorrow.js";
import { find, piece } from "../parts/pieces.js";
import { absenceOf, earlierMornings } from "../pure/dose/absence.js";
import { firstDay } from "../pure/dose/daybook.js";
import { dependsOnMorning, planOf } from "../pure/dose/today.js";
import { offeredBy, waysFrom } from "../pure/session/ways.js";
import * as activity from "./activity.js";
import * as arriving from "./arriving.js";
import * as away from "./away.js";
import { drawDate } from "./date.js";
import * as finishing from "./finishing.js";
import * as habit from "./habit.js";
import * as home from "./home.js";
import * as later from "./later.js";
import * as letters from "./letters.js";
import * as morning from "./morning.js";
import * as mornings from "./mornings.js";
import * as note from "./note.js";
import * as release from "./release.js";
import * as run from "./run.js";
import * as sent from "./sent.js";
import * as session from "./session.js";
import * as slips from "./slips.js";
import * as stop from "./stop.js";
import * as who from "./who.js";

const UPPER = { stop, run, slips, release, arriving, letters, note, finishing, away, morning, session };
const LOWER = { mornings, who, home, activity, later, habit, tomorrow, sent };
/** Shown while the first session still waits. */
const BEFORE_THE_START = ["stop", "run", "slips", "release", "arriving", "letters", "who", "sent"];
const LOOK_AT_CLOCK_MS = 30_000;

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @param {"changed"|"taken"|"halted"|"taken_back"|"unread"|"saved"|null} [handover] why a session was left, did not begin or is open again;
 *   "saved": a session of today was saved
 * @returns {() => void} stop
 */
export function start(root, edges, handover = null) {
  const over = new AbortController();
  const drawn = new Map();
  /** The part to scroll to after the next drawing: it answers what was just saved. @type {"session"|"morning"|null} */
  let answer = handover === "saved" ? "session" : null;
  const reported = () => {
    answer = "morning";
  };
  const draw = async () => {
    const context = { ...(await contextOf(edges, redraw)), reported };
    if (over.signal.aborted) return;
    drawDate(root, context, edges);
    // Whoever opens the app sees what to do as soon as it is known. What stands below it follows in a second round.
    const isFirst = drawn.size === 0;
    for (const [name, part] of Object.entries(isFirst ? UPPER : { ...UPPER, ...LOWER }))
      await drawPart(root, name, part, context, edges, drawn, over.signal);
    if (isFirst) return void redraw();
    root.setAttribute("data-drawn", context.today);
    if (answer === "session" || (answer === "morning" && morning.isReported(context))) {
      goTo(root, answer);
      answer = null;
    }
  };
  const redraw = oneAtATime(draw);
  root.replaceChildren(piece("day", "screen"));
  if (handover && handover !== "saved") tellLeft(find(root, `[data-left="${handover}"]`), edges);
  edges.voice.find();
  const stops = onEveryChange(edges, redraw);
  document.addEventListener("visibilitychange", redraw, { signal: over.signal });
  void redraw();
  return () => {
    over.abort();
    root.removeAttribute("data-drawn");
    for (const stop of stops) stop();
  };
}

/**
 * @param {import("../main.js").Edges} edges
 * @param {() => void} redraw called on each change of what the page shows, and now and then, since the day may have ended
 * @returns {(() => void)[]} each ends one of the calls
 */
function onEveryChange({ store, sync, keeper, room, clock }, redraw) {
  const changing = [store, sync, keeper, room].map((edge) => edge.onChange(redraw));
  return [...changing, clock.every(LOOK_AT_CLOCK_MS, redraw)];
}

/**
 * Draws at once where nothing is being drawn. Any number of calls during a drawing lead to one more drawing after it.
 * @param {() => Promise<void>} draw
 * @returns {() => Promise<void>} resolved when the drawing that was asked for is finished
 */
export function oneAtATime(draw) {
  /** @type {Promise<void>|null} */
  let running = null;
  let isAskedAgain = false;
  const run = async () => {
    try {
      do {
        isAskedAgain = false;
        await draw();
      } while (isAskedAgain);
    } finally {
      // At once: a call between the last look at isAskedAgain and this line would be lost.
      running = null;
    }
  };
  return () => {
    isAskedAgain = running !== null;
    running ??= run();
    return running;
  };
}

/**
 * @param {import("../main.js").Edges} edges
 * @param {() => void} redraw
 * @returns {Promise<Omit<Context, "reported">>}
 */
async function contextOf(edges, redraw) {
  const { store, keeper, room } = edges;
  const { snapshot, meta, unsent } = await (edges.takeEarly() ?? store.page());
  const {
    lastSyncAt,
    link,
    practitioner,
    skippedReportOn: skippedOn,
    homeLater,
    ways,
    soundHeard,
    activityPutOff,
  } = meta;
  const skipReport = () => void store.setMeta("skippedReportOn", snapshot.today).then(redraw);
  const putOffHome = () => void store.setMeta("homeLater", true).then(redraw);
  const way = room.homeWay();
  const isKept = keeper.isKept();
  const awaitsReport = skippedOn !== snapshot.today && reportMayChange(snapshot);
  return {
    ...snapshot,
    ...beginOf(snapshot, ways, soundHeard),
    waiting: unsent.length,
    lastSyncAt,
    link,
    practitioner,
    isNewer: keeper.isNewerWaiting(),
    // Before the first routine the questions are all that there is to keep.
    isKept: isKept && (Boolean(snapshot.bundle) || snapshot.start.waitsFor !== "nothing"),
    activityPutOff,
    home: homeLater || way === "installed" ? null : way,
    putOffHome,
    awaitsReport,
    skipReport,
    ...awayOf(snapshot, meta.awayPutOff, (last) => void store.setMeta("awayPutOff", last).then(redraw)),
  };
}

/**
 * Earlier mornings, and days without a word that nobody has told of or put off.
 * @param {Pick<Context, "bundle"|"anchors"|"events"|"today">} snapshot
 * @param {string|undefined} putOff the last day of the stretch that was put off
 * @param {(last: string) => void} keep
 */
function awayOf({ bundle, anchors, events, today }, putOff, keep) {
  const found = absenceOf(bundle, events, today);
  const absence = found && found.last !== putOff ? found : null;
  const mornings = earlierMornings(bundle, anchors, events, today);
  return { absence, putOffAway: () => keep(absence?.last ?? ""), mornings };
}

/**
 * The plan that Start would play, and its ways.
 * @param {{bundle: import("../wire.js").Bundle, today: string, days: Context["days"]}} snapshot
 * @param {Partial<import("../pure/session/ways.js").Ways>|undefined} chosen
 * @param {boolean|undefined} isSoundHeard
 */
function beginOf({ bundle, today, days }, chosen, isSoundHeard) {
  const plan = bundle && planOf(bundle, days, today);
  const ways = waysFrom(chosen, today, plan ? offeredBy(bundle, plan) : {});
  return { plan, ways, isHeard: isSoundHeard || ways.speaker === "nothing" };
}

/**
 * Whether a morning report that is still missing can change today's dose.
 * @param {{bundle: import("../wire.js").Bundle, anchors: Context["anchors"], events: Context["events"], today: string, days: Context["days"], course: Context["course"]}} snapshot
 */
function reportMayChange({ bundle, anchors, events, today, days, course }) {
  // No session comes before the first morning. Nobody has to wait for its report, though the report can stop the day.
  if (firstDay(events) === today || !course.isMorningAsked) return false;
  const open = days.filter((day) => day.done === 0 && day.yesterday.morning === null && !day.isHeldNow);
  return open.some(({ arm }) => dependsOnMorning(bundle, anchors[arm], events, today, arm));
}

/**
 * @param {HTMLElement} root
 * @param {string} name
 * @param {{seen(context: Context): unknown, draw(part: HTMLElement, context: Context, edges: import("../main.js").Edges, signal: AbortSignal): void|Promise<void>}} part
 * @param {Context} context
 * @param {import("../main.js").Edges} edges
 * @param {Map<string, string>} drawn
 * @param {AbortSignal} signal
 */
async function drawPart(root, name, part, context, edges, drawn, signal) {
  const isAfterStart = context.start.waitsFor === "nothing" || BEFORE_THE_START.includes(name);
  const mayShow = isAfterStart && finishing.isKept(name, context);
  const seen = mayShow ? part.seen(context) : null;
  const key = JSON.stringify(seen ?? null);
  if (drawn.get(name) === key) return;
  drawn.set(name, key);
  const section = find(root, `[data-part="${name}"]`);
  section.hidden = seen === null || seen === undefined;
  if (!section.hidden) await part.draw(section, context, edges, signal);
}

/** Scrolls the answer to what was saved to the top of the window; where an arm is stopped, that part comes first. @param {HTMLElement} root @param {string} answer */
function goTo(root, answer) {
  const isStopped = !find(root, '[data-part="stop"]').hidden;
  const title = find(root, `#part-${isStopped ? "stop" : answer}`);
  title.scrollIntoView();
  title.focus({ preventScroll: true });
}

/** @param {HTMLElement} line @param {import("../main.js").Edges} edges */
function tellLeft(line, { announce }) {
  line.hidden = false;
  announce(line.textContent ?? "");
}
