import assert from "node:assert/strict";
import { test } from "node:test";
import { correctedEntries } from "../../../../pwa_assets/js/pure/dose/corrections.js";
import { eventsOn, factsOf, firstDay, releasesOf } from "../../../../pwa_assets/js/pure/dose/daybook.js";
import { BUNDLE, event, sessionBody, sets } from "../../small_bundle.js";

const [MONDAY, TUESDAY, WEDNESDAY] = ["2026-03-02", "2026-03-03", "2026-03-04"];

/** @param {number} seq @param {object} own of the right arm @param {object} [other] @param {string} [on] */
const session = (seq, own = {}, other = {}, on = MONDAY) =>
  event(seq, "session_finished", on, sessionBody({ right: own }, other));

/** @param {number} seq @param {number} pain @param {object} [other] @param {string} [on] */
const morning = (seq, pain, other = {}, on = TUESDAY) =>
  event(seq, "morning_reported", on, { arms: { right: { pain, ...other } } });

/** @param {number} seq @param {string} replaces @param {any} [body] */
const correction = (seq, replaces, body) => event(seq, "entry_corrected", WEDNESDAY, { replaces, body });

const SESSION = session(1);

/** The facts of Monday. @param {...any} events */
const known = (...events) => factsOf(events, "right").get(MONDAY);

test("a copy of an entry is the same entry", () => {
  assert.deepEqual(correctedEntries([SESSION, { ...SESSION }]), [SESSION]);
});

test("a correction replaces the body of its entry, and a withdrawal removes the entry", () => {
  const better = sessionBody({ right: { worst: 5 } });
  const fix = correction(2, SESSION.id, better);
  assert.deepEqual(correctedEntries([fix, SESSION]), [{ ...SESSION, body: better }]);
  assert.deepEqual(correctedEntries([correction(3, SESSION.id, null), fix, SESSION]), []);
  assert.deepEqual(correctedEntries([correction(3, SESSION.id), SESSION]), []);
});

test("of several corrections the one with the highest device counter counts, then the one with the highest id", () => {
  const report = morning(1, 1);
  const by = (/** @type {number} */ id, /** @type {number} */ seq) => {
    return { ...correction(id, report.id, { arms: { right: { pain: id } } }), seq };
  };
  const pain = (/** @type {any[]} */ ...fixes) => known(report, ...fixes)?.morning;
  assert.deepEqual([pain(by(2, 9), by(3, 8)), pain(by(3, 8), by(2, 9))], [2, 2]);
  assert.deepEqual([pain(by(2, 9), by(3, 9)), pain(by(3, 9), by(2, 9))], [3, 3]);
});

test("an entry that does not fit its kind is ignored, and so is a correction with such a body", () => {
  assert.deepEqual(correctedEntries([event(1, "morning_reported", MONDAY, { arms: {} })]), []);
  for (const body of [{ arms: {} }, { arms: { right: { pain: 99 } } }, { arms: { right: { pain: "2" } } }]) {
    const report = morning(1, 3);
    assert.deepEqual(correctedEntries([report, correction(2, report.id, body)]), [report]);
  }
  const newer = event(1, "something_newer", MONDAY, { arms: 3 });
  assert.deepEqual(correctedEntries([newer]), [newer]);
});

test("a correction cannot change a correction, nor an entry of the practice", () => {
  const covers = /** @type {string[]} */ ([]);
  const release = event(1, "hold_released", MONDAY, {
    arms: { right: { rung: 1, range: 1, covers, reason: "", by: "" } },
  });
  assert.deepEqual(correctedEntries([release, correction(2, release.id, null)]), [release]);
  const fix = correction(2, SESSION.id, null);
  assert.deepEqual(correctedEntries([SESSION, fix, correction(3, fix.id, null)]), []);
});

test("entries are found by kind and day", () => {
  assert.deepEqual(
    eventsOn([SESSION, morning(2, 1, {}, MONDAY), session(3, {}, {}, TUESDAY)], "session_finished", MONDAY),
    [SESSION],
  );
});

test("the first day is that of the first routine, whatever came to the log first", () => {
  const received = [WEDNESDAY, MONDAY].map((on, i) => event(i, "routine_received", on, { version: 1 }));
  assert.equal(firstDay(received), MONDAY);
  assert.equal(firstDay([event(9, "routine_received", "2020-01-01", {}), ...received]), MONDAY);
  assert.equal(firstDay([SESSION]), null);
});

test("shares add up over a day's sessions, and four fifths in every direction are enough", () => {
  const done = (/** @type {number[]} */ ...shares) =>
    known(...shares.map((share, i) => session(i, { sets: sets(share) })))?.done;
  assert.deepEqual(
    [done(1000), done(800), done(799), done(400, 400), done(400, 399)],
    ["enough", "enough", "part", "enough", "part"],
  );
  const [up, down] = sets(1000);
  assert.equal(known(session(1, { sets: [up, { ...down, share: 700 }] }))?.done, "part");
  assert.equal(known(session(1, { sets: [up, down, { ...down, reps: 0, movement: "side" }] }))?.done, "part");
  assert.equal(
    known(
      session(1, {
        sets: [
          { ...up, share: 400 },
          { ...up, share: 400 },
        ],
      }),
    )?.done,
    "enough",
  );
});

test("the movements of a session without a rep still count as asked", () => {
  const [up, down] = sets(1000);
  const sharp = session(2, { sharp: true, worst: null, sets: [{ ...down, reps: 0, share: 0 }] });
  assert.equal(known(session(1, { sets: [up] }), sharp)?.done, "part");
});

test("a session without a rep is none, and a share without a rep is nothing", () => {
  const idle = known(session(1, { sets: sets(1000, 0), worst: 4 }, { ways: ["before_sport"] }));
  const { sessions, warmed, done, during, isUnrated } = idle ?? {};
  assert.deepEqual([sessions, warmed, done, during, isUnrated], [0, 0, "none", 4, false]);
  assert.equal(known(session(1, { sets: sets(1000, 0), worst: null }))?.isUnrated, false);
  assert.equal(known(session(1), session(2, { sets: sets(1000, 0) }))?.sessions, 1);
});

test("a session without a rating is reported beside the worst rating of the others", () => {
  const { during, isUnrated, sessions } = known(session(1, { worst: 4 }), session(2, { worst: null })) ?? {};
  assert.deepEqual([during, isUnrated, sessions], [4, true, 2]);
  assert.equal(known(session(1))?.isUnrated, false);
});

test("a session before sport is counted among the others", () => {
  const { sessions, warmed } = known(session(1), session(2, {}, { ways: ["short", "before_sport"] })) ?? {};
  assert.deepEqual([sessions, warmed], [2, 1]);
});

test("a morning speaks of the day before it, and of two the worse counts", () => {
  assert.deepEqual([known(morning(1, 3), morning(2, 2))?.morning, known(morning(1, 0))?.morning], [3, 0]);
  assert.deepEqual([known(morning(1, 3))?.sharp, known(morning(1, 3, { sharp: true }))?.sharp], [false, true]);
});

test("any text may name a movement", () => {
  const odd = ["__proto__", "constructor", "toString"].map((movement) => ({ ...sets(500)[0], movement }));
  const body = () => JSON.parse(JSON.stringify({ sets: odd }));
  assert.deepEqual(
    [known(session(1, body()))?.done, known(session(1, body()), session(2, body()))?.done],
    ["part", "enough"],
  );
});

test("one rep is a session, and a morning alone is none", () => {
  assert.deepEqual(
    [known(session(1, { sets: sets(100, 1) }))?.sessions, known(session(1, { sets: sets(900, 1) }))?.done],
    [1, "enough"],
  );
  const { sessions, warmed, done, during } = known(morning(1, 3)) ?? {};
  assert.deepEqual([sessions, warmed, done, during], [0, 0, "none", null]);
});

test("a session that says nothing of sharp pain had none", () => {
  assert.deepEqual(
    [known(session(1, { sharp: undefined }))?.sharp, known(session(1, { sharp: true }))?.sharp],
    [false, true],
  );
});

test("neither order nor repetition changes what is known", () => {
  const log = [
    session(1, { sets: sets(300) }),
    session(2, { sets: sets(500), worst: null }),
    morning(3, 4),
    morning(4, 1),
  ];
  const once = factsOf(log, "right");
  assert.equal(once.get(MONDAY)?.done, "enough");
  for (const other of [[...log].reverse(), [...log, ...log], [log[2], log[0], log[3], log[1], log[0]]]) {
    assert.deepEqual(factsOf(other, "right"), once);
  }
});

test("of two releases of one day the lower rung counts, and of equal rungs the smaller range", () => {
  const released = (/** @type {[number, number][]} */ ...chosen) => {
    const events = chosen.map(([rung, range], i) => {
      return event(i, "hold_released", MONDAY, { arms: { right: { rung, range, covers: [], reason: "", by: "" } } });
    });
    return releasesOf(BUNDLE, events, "right").get(MONDAY);
  };
  assert.deepEqual(released([3, 1], [2, 1]), { rung: 2, range: 1 });
  assert.deepEqual(released([2, 0.5], [2, 1], [3, 0.5]), { rung: 2, range: 0.5 });
  assert.deepEqual(released([2, 0.75], [2, 1]), { rung: 2, range: 0.75 });
  assert.deepEqual(released([2, 1], [2, 0.75]), { rung: 2, range: 0.75 });
  assert.equal(released([2, 0.6]), undefined);
});

test("a sign of the whole body makes both arms' day sharp, one that holds nothing neither", () => {
  const arms = ["right", "left"];
  const sharp = (/** @type {object} */ body) =>
    arms.map(
      (arm) => factsOf([event(1, "warning_raised", MONDAY, { sign: "chest", arms, ...body })], arm).get(MONDAY)?.sharp,
    );
  assert.deepEqual(sharp({}), [true, true]);
  assert.deepEqual(sharp({ holds: true }), [true, true]);
  assert.deepEqual(sharp({ holds: false }), [undefined, undefined]);
});

test("a release counts only where it covers every sharp entry about a day before its own", () => {
  const sharp = [
    session(1, { worst: 8 }),
    morning(2, 3, { sharp: true }),
    event(3, "warning_raised", MONDAY, { sign: "numb", arms: ["right"] }),
  ];
  const counts = (/** @type {string} */ on, /** @type {any[]} */ covered, /** @type {any[]} */ log = sharp) => {
    const arms = { right: { rung: 1, range: 1, covers: covered.map(({ id }) => id), reason: "", by: "" } };
    return releasesOf(BUNDLE, [...log, event(9, "hold_released", on, { arms })], "right").has(on);
  };
  assert.equal(counts(TUESDAY, sharp), true);
  for (const left of sharp)
    assert.equal(
      counts(
        TUESDAY,
        sharp.filter((entry) => entry !== left),
      ),
      false,
    );
  // A release need not cover an entry about its own day, about the other arm, or without sharp pain.
  assert.equal(counts(MONDAY, []), true);
  const calm = [session(4, { worst: 7 }), event(5, "warning_raised", MONDAY, { sign: "numb", arms: ["left"] })];
  assert.equal(counts(TUESDAY, [], calm), true);
  assert.equal(
    releasesOf(
      BUNDLE,
      [event(9, "hold_released", MONDAY, { arms: { left: { rung: 1, range: 1, covers: [], reason: "", by: "" } } })],
      "right",
    ).size,
    0,
  );
});
