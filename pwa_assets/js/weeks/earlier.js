/**
 * An earlier day as it was: read only. The address names it, `#earlier?on=2026-03-12`; without a day that exists it is yesterday.
 *
 * @typedef {import("../pure/weeks/past_days.js").PastDay} PastDay
 * @typedef {{bundle: import("../wire.js").Bundle, tables: import("../wire.js").Bundle|null, events: import("../pure/dose/daybook.js").Event[],
 *   first: string, on: string, today: string, days: PastDay[], names: import("./names.js").Names}} Told
 *   tables: of the routine of that day, null where this phone has them no more; days: from this day on, as far as is known
 */

import { changeText } from "../dose/tomorrow.js";
import { fillSlots, find, piece } from "../parts/pieces.js";
import { addDays } from "../pure/calendar/local_day.js";
import { firstDay } from "../pure/dose/daybook.js";
import { doseChange } from "../pure/dose/dose_change.js";
import { armDays } from "../pure/dose/today.js";
import { isDay } from "../pure/sync/entry_check.js";
import { dayAccount, nextAsked, responseTo, routineOn } from "../pure/weeks/day_account.js";
import { pastDays } from "../pure/weeks/past_days.js";
import { morningNode, sessionNode } from "./day_pieces.js";
import { namesOf } from "./names.js";

const [DAYS_BEFORE, DAYS_AFTER] = [4, 8];

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @returns {() => void} stop
 */
export function start(root, edges) {
  const over = new AbortController();
  root.replaceChildren(piece("earlier", "screen"));
  root.removeAttribute("data-earlier");
  const { clock, words } = edges;
  const today = clock.today();
  const wanted = new URLSearchParams(location.hash.split("?")[1] ?? "").get("on") ?? "";
  const on = isDay(wanted) ? wanted : addDays(today, -1);
  fillSlots(root, { weekday: words.weekday(on), date: words.date(on) });
  const show = async () => {
    const past = await read(edges, on, today);
    if (over.signal.aborted) return;
    draw(root, edges, past, on, today);
  };
  void show();
  const stop = edges.store.onChange(() => void show());
  return () => {
    over.abort();
    stop();
  };
}

/**
 * @param {import("../main.js").Edges} edges
 * @param {string} on
 * @param {string} today
 * @returns {Promise<Told|null>} null where there is no such day in the course
 */
async function read({ store, words }, on, today) {
  const [bundle, lasting] = [await store.bundle(), await store.lasting()];
  const first = firstDay(lasting);
  if (!bundle || !first || on < first || on >= today) return null;
  const [last] = [addDays(on, DAYS_AFTER), today].sort();
  const events = [...lasting, ...(await store.about(addDays(on, -DAYS_BEFORE), last))];
  const routine = routineOn(events, on);
  const isSame = routine?.version === bundle.routine.version;
  const tables = isSame ? bundle : routine?.bundle ? await store.bundle(routine.bundle) : null;
  const days = pastDays(bundle, events, first, on, last);
  return { bundle, tables, events, first, on, today, days, names: namesOf(words, bundle) };
}

/** @param {HTMLElement} root @param {import("../main.js").Edges} edges @param {Told|null} past @param {string} on @param {string} today */
async function draw(root, edges, past, on, today) {
  const { words, store } = edges;
  const first = past?.first ?? firstDay(await store.lasting());
  steps(root, words, first ?? today, on, today);
  if (!past) {
    const key = on >= today ? "earlier.to_come" : "earlier.before_all";
    fillSlots(root, {
      none: first && on < first ? words.fill("earlier.before", { day: words.day(first) }) : words.say(key),
    });
    return root.setAttribute("data-earlier", "none");
  }
  const [day] = past.days;
  const account = dayAccount(past.events, on, edges.clock.dayOf);
  fillSlots(root, { about: words.fill("earlier.about", { number: day.number }) });
  find(root, "[data-mornings]").replaceChildren(...account.mornings.map((morning) => morningNode(morning, words)));
  find(root, "[data-no-morning]").hidden = account.mornings.length > 0 || day.number === 1;
  find(root, "[data-sessions]").replaceChildren(
    ...account.sessions.map((session) => sessionNode(session, past.bundle, past.names, words)),
  );
  find(root, "[data-no-session]").hidden = account.sessions.length > 0;
  const marks = [
    ...account.loads.map((load) => words.say(`weeks.load.${load}`)),
    ...(day.version ? [words.fill("weeks.version", { version: day.version })] : []),
    ...(day.released.length ? [words.say("weeks.started_again")] : []),
  ];
  fillSlots(root, { marks: marks.length ? words.list(marks) : null });
  const { snapshot } = await store.page();
  find(root, "[data-classed]").replaceChildren(
    ...past.bundle.arms.map((arm) => classedNode(past, snapshot, arm, words)),
  );
  root.setAttribute("data-earlier", "drawn");
}

/** The ways to the day before and the day after. @param {HTMLElement} root @param {import("../edges/screen/words.js").Words} words @param {string} first @param {string} on @param {string} today */
function steps(root, words, first, on, today) {
  const [before, after] = [addDays(on, -1), addDays(on, 1)];
  const ways = {
    before: before >= first && before < today ? before : null,
    after: on < first ? first : after < today ? after : null,
  };
  for (const [name, day] of Object.entries(ways)) {
    const way = find(root, `[data-way="${name}"]`);
    way.hidden = day === null;
    if (day) way.setAttribute("href", `#earlier?on=${day}`);
    if (day) way.textContent = words.weekday(day);
  }
}

/**
 * How the day was classed, and what the next session asked.
 * @param {Told} told
 * @param {{bundle: import("../wire.js").Bundle, anchors: Record<string, import("../pure/dose/course.js").Anchor>,
 *   events: import("../pure/dose/daybook.js").Event[]}} snapshot of today
 * @param {string} arm
 * @param {import("../edges/screen/words.js").Words} words
 */
function classedNode({ tables, events, days, bundle, on, today, names }, snapshot, arm, words) {
  const [day, ...later] = days;
  const isOpen = addDays(on, 1) === today && days[1]?.arms[arm].morning === null;
  const response = tables && !isOpen ? responseTo(tables, events, day, arm) : null;
  const next = nextAsked(later, arm);
  const shown = { sets: day.arms[arm].dose?.sets ?? [], sessions: day.arms[arm].dose?.sessions ?? 0 };
  const change = next && shown.sets.length ? doseChange(asDose(shown, names), asDose(next.dose, names)) : null;
  return fillSlots(piece("earlier_classed"), {
    arm: bundle.arms.length > 1 ? words.say(`arm.${arm}`) : null,
    response: response
      ? (tables?.responses[response] ?? null)
      : words.say(isOpen ? "earlier.open" : "earlier.not_known"),
    next:
      next && change
        ? words.fill("earlier.next", { day: words.day(next.on), change: changeText(words, change) })
        : null,
    why: whyNext(snapshot, arm, addDays(on, 1), words),
  });
}

/** @param {import("../wire.js").ArmDose} asked @param {import("./names.js").Names} names @returns {import("../wire.js").Dose} as far as a change is told from it */
function asDose({ sessions, sets }, names) {
  const named = sets.map((set) => ({ ...set, load: names.load(set.load_kg) }));
  return /** @type {any} */ ({ mode: "training", sessions, sets: named });
}

/**
 * Why the day after asked what it asked: known from the anchor's day on, by the same look-ups as today's page.
 * @param {Parameters<typeof classedNode>[1]} snapshot
 * @param {string} arm
 * @param {string} day
 * @param {import("../edges/screen/words.js").Words} words
 */
function whyNext({ bundle, anchors, events }, arm, day, words) {
  if (!bundle || !anchors[arm] || day < anchors[arm].on) return null;
  const found = armDays(bundle, anchors, events, day).find((each) => each.arm === arm);
  const reason = (found?.why ?? []).map((rule) => bundle.why[rule]).join(" ");
  return reason ? words.fill("dose.why", { reason }) : null;
}
