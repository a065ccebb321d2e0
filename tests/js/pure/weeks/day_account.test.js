import assert from "node:assert/strict";
import { test } from "node:test";
import { dayAccount, nextAsked, routineOn } from "../../../../pwa_assets/js/pure/weeks/day_account.js";
import { event as plain, sessionBody } from "../../small_bundle.js";

const [MONDAY, TUESDAY, FRIDAY] = ["2026-03-02", "2026-03-03", "2026-03-06"];
/** @param {number} seq @param {any} kind @param {string} on @param {any} body @returns {any} */
const event = (seq, kind, on, body) => ({ ...plain(seq, kind, on, body), at: `${on}T18:00:00Z` });
const dayOf = (/** @type {number} */ ms) => new Date(ms).toISOString().slice(0, 10);
const set = (/** @type {string} */ movement, reps = 8, kg = 0.5) => ({
  movement,
  reps,
  load_kg: kg,
  range: 1,
  share: 1000,
});
const DOSE = { sessions: 1, sets: [set("palm_up", 8), set("palm_down", 8)] };
/** @param {any[]} events @param {string} [on] */
const accountOf = (events, on = MONDAY) => dayAccount(events, on, dayOf);
/** @param {number} seq @param {string} on @param {number} pain @param {object} [other] @returns {any} */
const morning = (seq, on, pain, other = {}) => ({
  ...event(seq, "morning_reported", on, { arms: { right: { pain } } }),
  at: `${on}T07:00:00Z`,
  ...other,
});

test("a session tells of each movement what was done and what was asked", () => {
  const own = { worst: 4, sets: [set("palm_up", 8), set("palm_down", 6)], dose: DOSE };
  const [{ arms }] = accountOf([event(1, "session_finished", MONDAY, sessionBody({ right: own }))]).sessions;
  assert.deepEqual(arms, [
    {
      arm: "right",
      worst: 4,
      isSharp: false,
      rows: [
        { movement: "palm_up", did: 8, wanted: 8 },
        { movement: "palm_down", did: 6, wanted: 8 },
      ],
      reps: 14,
      wanted: 16,
      loads: [0.5],
    },
  ]);
});

test("what an entry does not tell was asked is not guessed", () => {
  const own = { worst: null, sets: [set("palm_up", 0)] };
  const [{ arms }] = accountOf([event(1, "session_finished", MONDAY, sessionBody({ right: own }))]).sessions;
  assert.deepEqual([arms[0].wanted, arms[0].rows[0].wanted, arms[0].loads], [null, null, []]);
});

test("an easing is told once, and a look at the form is none", () => {
  const eased = [1, 2].map((step) => ({ step, what: "range", movement: "palm_up" }));
  const body = { ...sessionBody({ right: { sets: [set("palm_up")] } }), eased: [...eased, { step: 3, what: "form" }] };
  assert.deepEqual(accountOf([event(1, "session_finished", MONDAY, body)]).sessions[0].eased, [
    { lever: "range", movement: "palm_up" },
  ]);
});

test("a morning that was entered on a later day says which, and one in its own night does not", () => {
  const late = morning(1, MONDAY, 3, { at: "2026-03-04T09:00:00Z" });
  assert.equal(accountOf([late]).mornings[0].isLate, "2026-03-04");
  assert.equal(accountOf([morning(1, MONDAY, 3)]).mornings[0].isLate, null);
});

test("a correction is shown as it now reads, and said; a withdrawn entry is not shown", () => {
  const first = morning(1, MONDAY, 7);
  const fix = event(2, "entry_corrected", TUESDAY, { replaces: first.id, body: { arms: { right: { pain: 2 } } } });
  const [corrected] = accountOf([first, fix]).mornings;
  assert.deepEqual([corrected.arms[0].pain, corrected.isCorrected], [2, true]);
  const gone = event(2, "entry_corrected", TUESDAY, { replaces: first.id, body: null });
  assert.deepEqual(accountOf([first, gone]).mornings, []);
});

test("only entries of the day are told", () => {
  const entries = [morning(1, TUESDAY, 3), event(2, "exposure_noted", MONDAY, { what: "sport" })];
  const { mornings, sessions, loads } = accountOf(entries);
  assert.deepEqual([mornings, sessions, loads], [[], [], ["sport"]]);
});

test("the next session that tells what it asked is looked for, however many days later", () => {
  const day = (/** @type {string} */ on, /** @type {any} */ dose) =>
    /** @type {any} */ ({ on, arms: { right: { dose } } });
  assert.deepEqual(nextAsked([day(TUESDAY, null), day(FRIDAY, DOSE)], "right"), { on: FRIDAY, dose: DOSE });
  assert.equal(nextAsked([day(TUESDAY, null)], "right"), null);
});

test("the routine of a day is the newest that had come by then", () => {
  const came = [
    event(1, "routine_received", MONDAY, { version: 1, bundle: "aa" }),
    event(2, "routine_received", FRIDAY, { version: 2, bundle: "bb" }),
  ];
  assert.deepEqual(routineOn(came, TUESDAY), { version: 1, bundle: "aa" });
  assert.deepEqual(routineOn(came, FRIDAY), { version: 2, bundle: "bb" });
  assert.equal(routineOn(came, "2026-03-01"), null);
});
