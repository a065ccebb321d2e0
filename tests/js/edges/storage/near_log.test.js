import assert from "node:assert/strict";
import { test } from "node:test";
import { seen as released } from "../../../../pwa_assets/js/day/release.js";
import { createStore } from "../../../../pwa_assets/js/edges/storage/store.js";
import { lastReportBefore } from "../../../../pwa_assets/js/morning/form.js";
import { addDays } from "../../../../pwa_assets/js/pure/calendar/local_day.js";
import { eventsOn, firstDay, isBeforeAll } from "../../../../pwa_assets/js/pure/dose/daybook.js";
import { armDays } from "../../../../pwa_assets/js/pure/dose/today.js";
import { emptyPhone } from "../../browser.js";
import { anchorAt, BUNDLE, event, FIRST, HELD, sessionBody, sets } from "../../small_bundle.js";

const START = "2026-01-05";
const [LOGS, LONGEST] = [120, 60];
const ARMS = ["right", "left"];

/** Seeded dice: a linear congruential generator (Numerical Recipes' numbers, from memory). @param {number} seed */
function diceOf(seed) {
  let state = seed;
  const roll = () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
  /** @template T @param {T[]} list @returns {T} */
  const pick = (list) => list[Math.floor(roll() * list.length)];
  return { roll, pick };
}

/** @param {ReturnType<typeof diceOf>} dice what a session or a morning says of some arms; now and then that one is sharp */
function saidOf({ roll, pick }) {
  const arms = pick([ARMS, ["right"], ["left"]]);
  const rating = () => pick([0, 1, 1, 2, 2, 3, 3, 4, 6, 8]);
  const session = () => ({
    worst: pick([null, rating()]),
    sharp: roll() < 0.05,
    sets: sets(pick([1000, 0]), pick([8, 0])),
  });
  const morning = () => ({ pain: rating(), sharp: roll() < 0.05 });
  return {
    session_finished: () => sessionBody(Object.fromEntries(arms.map((arm) => [arm, session()]))),
    morning_reported: () => ({ arms: Object.fromEntries(arms.map((arm) => [arm, morning()])) }),
  };
}

/** @param {number} seed @returns {{events: any[], today: string, anchors: any}} a log of sessions, corrections, holds and releases */
function logOf(seed) {
  const dice = diceOf(seed);
  const { roll, pick } = dice;
  const days = 8 + Math.floor(roll() * LONGEST);
  const today = addDays(START, days);
  /** @type {any[]} */
  const events = [event(1, "routine_received", START, { version: 1 })];
  /** @param {string} kind @param {string} on @param {any} body */
  const add = (kind, on, body) => events.push(event(events.length + 1, kind, on, body));
  for (let day = 0; day <= days; day += 1) {
    const on = addDays(START, day);
    const isAway = day > 10 && seed % 3 === 0 && (seed % 2 === 0 || day < days - 2);
    for (const kind of /** @type {const} */ (["session_finished", "morning_reported"]))
      if (!isAway && roll() < 0.8) add(kind, on, saidOf(dice)[kind]());
    const reports = events.filter(({ kind }) => kind === "session_finished" || kind === "morning_reported");
    if (reports.length && roll() < 0.3) {
      const { id, kind } = pick(reports);
      const body = roll() < 0.3 ? null : saidOf(dice)[/** @type {"session_finished"|"morning_reported"} */ (kind)]();
      add("entry_corrected", on, { replaces: id, body });
    }
    if (roll() < 0.1) add("warning_raised", on, { sign: "numb_fingers", arms: [pick(ARMS)] });
    if (roll() < 0.15) {
      const covers = events.filter(() => roll() < 0.9).map(({ id }) => id);
      add("hold_released", on, { arms: { [pick(ARMS)]: { rung: 1, range: 0.5, covers, reason: "Seen.", by: "A" } } });
    }
  }
  const on = addDays(today, -pick([0, 1, 3]));
  const anchors = Object.fromEntries(ARMS.map((arm) => [arm, anchorAt(pick([FIRST, HELD]), on)]));
  return { events: events.sort(() => roll() - 0.5), today, anchors };
}

/** Store a log that the server sends in two replies. @param {ReturnType<typeof logOf>} log */
async function kept({ events, today, anchors }) {
  await emptyPhone();
  const clock = /** @type {any} */ ({ now: () => 0, today: () => today, zone: () => "UTC", hourOn: () => 12 });
  const store = createStore(clock, () => assert.fail("no other window is open"));
  await store.setMeta("client", "c");
  const reply = {
    epoch: "e",
    cursor: 1,
    results: [],
    more: false,
    bundle_hash: BUNDLE.hash,
    practitioner: { name: "" },
  };
  const pulled = events.map((each, seq) => ({ seq, event: each }));
  const half = Math.floor(pulled.length / 2);
  const firstReply = { ...reply, events: pulled.slice(0, half), bundle: BUNDLE, anchors };
  await store.takeReply(/** @type {any} */ (firstReply), START, 0);
  const secondReply = { ...reply, events: pulled.slice(half), bundle: null, anchors };
  await store.takeReply(/** @type {any} */ (secondReply), START, 0);
  return store;
}

/** All that the screens read of a log. @param {any} log */
function shown({ events, anchors, today }) {
  const days = armDays(BUNDLE, anchors, events, today);
  return {
    days: days.map(({ facts, yesterday, ...day }) => ({ ...day, facts: { ...facts }, yesterday: { ...yesterday } })),
    released: released(/** @type {any} */ ({ bundle: BUNDLE, events, today, days })),
    since: lastReportBefore(events, today),
    first: firstDay(events),
    isBeforeAll: isBeforeAll({ bundle: BUNDLE, events }),
    morning: eventsOn(events, "morning_reported", today),
    yesterday: eventsOn(events, "session_finished", addDays(today, -1)),
  };
}

test("what a page shows of the entries that are read at its start is what it would show of the whole log", async () => {
  let [left, read, held] = [0, 0, 0];
  for (let seed = 1; seed <= LOGS; seed += 1) {
    const log = logOf(seed);
    const store = await kept(log);
    const [all, near] = [await store.events(), (await store.snapshot()).events];
    assert.deepEqual(shown({ ...log, events: near }), shown({ ...log, events: all }), `log ${seed}`);
    [left, read] = [left + all.length - near.length, read + near.length];
    held += Number(shown({ ...log, events: all }).days.some(({ isHeldNow }) => isHeldNow));
  }
  assert.ok(left > LOGS, `of ${left + read} entries ${read} were read`);
  assert.ok(held > LOGS / 10 && held < LOGS, `${held} logs end with an arm that is held`);
});

test("how many entries are read does not grow with the log", async () => {
  const length = async (/** @type {number} */ days) => {
    const today = addDays(START, days);
    const events = Array.from({ length: days }, (_, day) => [
      event(3 * day + 1, "session_finished", addDays(START, day), sessionBody({ right: {}, left: {} })),
      event(3 * day + 2, "morning_reported", addDays(START, day), { arms: { right: { pain: 1 } } }),
      event(3 * day + 3, "entry_corrected", addDays(START, day), {
        replaces: event(3 * day + 2, "", "", null).id,
        body: { arms: { right: { pain: 2 } } },
      }),
    ]).flat();
    const store = await kept({ events, today, anchors: { right: anchorAt(FIRST, today) } });
    return (await store.snapshot()).events.length;
  };
  assert.equal(await length(40), await length(160));
});

/** @param {any[]} events @param {any} [anchors] of the fortieth day */
async function bothWays(events, anchors = { right: anchorAt(HELD, addDays(START, 40)) }) {
  const log = {
    events: [event(1, "routine_received", START, { version: 1 }), ...events],
    today: addDays(START, 40),
    anchors,
  };
  const store = await kept(log);
  const near = (await store.snapshot()).events;
  return {
    near: shown({ ...log, events: near }),
    all: shown({ ...log, events: await store.events() }),
    read: near.length,
  };
}

test("a rating of eight in an old session keeps a release that did not know of it from counting", async () => {
  const release = { arms: { right: { rung: 1, range: 0.5, covers: [], reason: "Seen.", by: "A" } } };
  const anchors = { right: anchorAt(HELD, addDays(START, 39)) };
  const old = (/** @type {number} */ worst) => {
    const session = event(2, "session_finished", addDays(START, 5), sessionBody({ right: { worst } }));
    const later = Array.from({ length: 15 }, (_, day) =>
      event(10 + day, "session_finished", addDays(START, 10 + day), sessionBody({ right: {}, left: {} })),
    );
    return bothWays([session, ...later, event(3, "hold_released", addDays(START, 40), release)], anchors);
  };
  const [seven, eight] = [await old(7), await old(8)];
  assert.deepEqual([seven.near, eight.near], [seven.all, eight.all]);
  assert.deepEqual([seven.near.days[0].isHeldNow, eight.near.days[0].isHeldNow], [false, true]);
});

test("the last report that was not withdrawn is found, though its correction came long ago", async () => {
  const report = (/** @type {number} */ seq, /** @type {number} */ day) =>
    event(seq, "morning_reported", addDays(START, day), { arms: { right: { pain: 1 } } });
  const withdrawn = event(4, "entry_corrected", addDays(START, 7), { replaces: report(3, 6).id, body: null });
  const { near, all } = await bothWays([report(2, 5), report(3, 6), withdrawn]);
  assert.deepEqual([near.since, all.since], [addDays(START, 5), addDays(START, 5)]);
});

test("the mornings that the anchor's day before is compared with are read", async () => {
  const report = (/** @type {number} */ seq, /** @type {number} */ day, /** @type {number} */ pain) =>
    event(seq, "morning_reported", addDays(START, day), { arms: { right: { pain } } });
  const session = event(9, "session_finished", addDays(START, 39), sessionBody({ right: {} }));
  const reports = [report(2, 37, 1), report(3, 38, 3), report(4, 39, 3), report(5, 40, 3)];
  const { near, all } = await bothWays([...reports, session], { right: anchorAt(FIRST, addDays(START, 40)) });
  assert.deepEqual(near, all);
  assert.equal(near.days[0].responseYesterday, "flared");
});

test("a warning sign that was taken back long ago stays taken back", async () => {
  const raised = event(1, "warning_raised", START, { sign: "numb_fingers", arms: ["right"] });
  const answered = event(2, "screening_answered", START, { asked_list: "", reached: "soon", signs: ["numb_fingers"] });
  const back = [raised, answered].map(({ id }, at) =>
    event(3 + at, "entry_corrected", START, { replaces: id, body: null }),
  );
  const today = addDays(START, 60);
  const anchors = { right: anchorAt(FIRST, today) };
  const store = await kept({ events: [raised, answered, ...back], today, anchors });
  const { events } = await store.snapshot();
  assert.deepEqual(eventsOn(events, "warning_raised", null), []);
  assert.deepEqual(eventsOn(events, "screening_answered", null), []);
});
