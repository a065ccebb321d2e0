import assert from "node:assert/strict";
import { test } from "node:test";
import { shortSession } from "../builders.js";
import { driven } from "../driven.js";

const [REPS, REST, HOLD] = [1, 2, 3];
const REST_STARTS_MS = 30_000;

/** A session that has run for some time. @param {number} ms */
async function running(ms) {
  const session = await driven(shortSession());
  await session.tap(() => session.driver.go());
  await session.pass(ms);
  session.seen.isSpeaking = true;
  assert.ok(session.seen.laid);
  return session;
}

/** Looks every 100 ms while time passes. @param {any} session @param {number} ms @param {() => void} look */
async function watch(session, ms, look) {
  for (let passed = 0; passed < ms; passed += 100) {
    await session.pass(100);
    look();
  }
}

test("a pause cancels every scheduled tone, and so does an interruption", async () => {
  const paused = await running(15_000);
  await paused.tap(() => paused.driver.do("pause"));
  assert.equal(paused.seen.laid, null);
  const asleep = await running(15_000);
  await asleep.sleep(60_000);
  assert.deepEqual([asleep.driver.session.status, asleep.seen.laid], ["paused", null]);
});

test("sharp pain silences tones and voice at once, and gives the sound back, though nothing can be saved", async () => {
  const { driver, seen, tap } = await running(15_000);
  seen.store = "fails";
  await tap(() => void driver.end("sharp"));
  assert.deepEqual([seen.laid, seen.isSpeaking, seen.isGivenBack], [null, false, true]);
  assert.deepEqual(
    seen.over.map(({ ended, sharpArm }) => [ended, sharpArm]),
    [["sharp", "right"]],
  );
});

test("a run that another window took is not written any more, and its end is not shown here", async () => {
  const { driver, seen, tap, pass } = await running(15_000);
  seen.store = "taken";
  await pass(7000);
  assert.equal(seen.isTaken, true);
  await tap(() => void driver.end("stopped", "tired"));
  await pass(10_000);
  assert.deepEqual([seen.over, seen.kept.ended], [[], ""]);
});

test("after a skip and after going back, the tones are scheduled again from the new place", async () => {
  const { driver, seen, tap } = await running(15_000);
  await tap(() => driver.do("skip"));
  assert.equal(seen.laid?.fromMs, REST_STARTS_MS);
  await tap(() => driver.do("back"));
  assert.equal(seen.laid?.fromMs, 10_000);
});

test("before the start nothing is kept, and the first start waits for nothing", async () => {
  const { driver, seen, tap, pass } = await driven(shortSession());
  assert.equal(seen.kept, null);
  await tap(() => driver.go());
  assert.equal(seen.leadMs, 0);
  await pass(1000);
  assert.equal(seen.moment.stepMs, 1000);
});

test("after a pause five seconds are there to take up the weight, and the tones wait as long", async () => {
  const { driver, seen, tap, pass } = await running(15_000);
  await tap(() => driver.do("pause"));
  await pass(60_000);
  await tap(() => driver.go());
  assert.deepEqual([seen.leadMs, seen.laid?.fromMs], [5000, 10_000]);
  await pass(4900);
  assert.deepEqual([seen.leadMs > 0, seen.moment.stepMs], [true, 5000]);
  await pass(1100);
  assert.deepEqual([seen.leadMs, seen.moment.stepMs], [0, 6000]);
});

test("the screen is kept on from the tap until the session is left, and a lock that is refused is told", async () => {
  const { driver, seen, tap, pass } = await driven(shortSession());
  assert.equal(seen.isAwake, false);
  await tap(() => driver.go());
  assert.equal(seen.isAwake, true);
  await pass(1000);
  assert.equal(seen.notes.lock, false);
  seen.isAwake = false;
  await pass(1000);
  assert.equal(seen.notes.lock, true);
  seen.isAwake = true;
  await tap(() => driver.stop());
  assert.equal(seen.isAwake, false);
});

test("a session that is left keeps its place, is silent, and gives the sound back", async () => {
  const { driver, seen, tap } = await running(15_000);
  await tap(() => driver.stop());
  assert.deepEqual([seen.laid, seen.isSpeaking, seen.isGivenBack], [null, false, true]);
  assert.deepEqual([seen.kept.step, seen.kept.activeMs, seen.over], [REPS, 15_000, []]);
});

test("an end that cannot be saved is told, tried again, and over only once it is on the phone", async () => {
  const { driver, seen, tap, pass } = await running(15_000);
  assert.equal(seen.notes.unsaved, false);
  seen.store = "fails";
  await tap(() => void driver.end("stopped", "tired"));
  await pass(10_000);
  assert.deepEqual([seen.notes.unsaved, seen.over, seen.kept.ended], [true, [], ""]);
  seen.store = "well";
  await pass(3000);
  assert.deepEqual([seen.over.length, seen.kept.ended, seen.kept.why], [1, "stopped", "tired"]);
});

test("a session played to its last step ends by itself, and lets its last tone ring out", async () => {
  const { seen, pass } = await running(79_000);
  await pass(2000);
  assert.deepEqual([seen.over.length, seen.kept.ended, seen.isGivenBack], [1, "completed", true]);
  assert.ok(seen.laid);
});

test("a step that is skipped to is shown only once it is on the phone", async () => {
  const { driver, seen, tap, pass, answer } = await running(15_000);
  seen.store = "waits";
  await tap(() => driver.do("skip"));
  await pass(1000);
  assert.ok(!seen.steps.includes(REST));
  await answer();
  assert.equal(seen.steps.at(-1), REST);
  assert.equal(seen.kept.step, REST);
});

test("whatever step is on the screen is on the phone, and comes there on time", async () => {
  const session = await running(0);
  const { seen } = session;
  await watch(session, 79_000, () => assert.ok(seen.kept.step >= (seen.steps.at(-1) ?? 0)));
  assert.deepEqual([...new Set(seen.steps)], [0, REPS, REST, HOLD]);
  const late = await running(REST_STARTS_MS - 500);
  late.seen.store = "waits";
  await late.pass(600);
  assert.equal(late.seen.steps.at(-1), REST);
});

test("an absence while the session already waits adds nothing to the one before it", async () => {
  const { driver, seen, tap, pass, turn } = await running(5000);
  await turn(true);
  await pass(600_000);
  await turn(false);
  assert.deepEqual(seen.kept.gaps, [[5, 600]]);
  assert.equal(seen.notes.away, 600);
  await turn(true);
  await pass(5000);
  await turn(false);
  assert.deepEqual(seen.kept.gaps, [[5, 600]]);
  await tap(() => driver.go());
  await pass(6000);
  assert.equal(seen.notes.away, 0);
});

for (const [news, known] of Object.entries({
  "another phone's sign": { days: [{ arm: "right", isHeldNow: true }] },
  "the end that the practitioner set": { course: { to: "ended" } },
  "a question that must be asked first": { start: { waitsFor: "practitioner" } },
}))
  test(`${news} that comes while a session runs pauses it, keeps what was done, and leaves it`, async () => {
    const { driver, seen, tap, pass } = await running(15_000);
    Object.assign(seen.today, known);
    seen.changed();
    await pass(1000);
    assert.ok(seen.halted > 0);
    await tap(() => driver.stop());
    assert.deepEqual([seen.laid, seen.isSpeaking, seen.over], [null, false, []]);
    assert.equal(seen.kept.step, REPS);
  });

test("a sign about the other arm stops no session", async () => {
  const { seen, pass } = await running(15_000);
  seen.today.days = [{ arm: "left", isHeldNow: true }];
  seen.changed();
  await pass(1000);
  assert.equal(seen.halted, 0);
});
