import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";
import { createStore } from "../../../../pwa_assets/js/edges/storage/store.js";
import { newRun, TakenError } from "../../../../pwa_assets/js/pure/session/run.js";
import { emptyPhone } from "../../browser.js";
import { planWith, shortSession } from "../../builders.js";

const NOW = Date.UTC(2026, 2, 2, 18);
const clock = /** @type {any} */ ({ now: () => NOW, today: () => "2026-03-02", zone: () => "Europe/Lisbon" });
const blocked = () => assert.fail("no window keeps an older database");

/** Two windows of one phone. @type {import("../../../../pwa_assets/js/edges/storage/store.js").Store[]} */
let windows;
const run = newRun(planWith(shortSession()), "run-1");

beforeEach(async () => {
  await emptyPhone();
  windows = [createStore(clock, blocked), createStore(clock, blocked)];
  await windows[0].setMeta("client", "ansgar0001");
});

/** What the log says, in short. */
const log = async () =>
  (await windows[0].events()).map(
    /** @param {any} event */ ({ id, kind, body }) => [id, kind, body.ended ?? body.replaces],
  );

test("a session that is begun in one window is kept for the other, with the step that it had", async () => {
  const [one, other] = windows;
  await one.saveRun({ ...run, step: 2 });
  assert.equal((await other.loadRun()).step, 2);
  assert.deepEqual([await one.ownsRun(run), await other.ownsRun(run)], [true, false]);
});

test("a window that takes the run up has it, and what the first one writes of it fails from then on", async () => {
  const [one, other] = windows;
  await one.saveRun(run);
  assert.equal((await other.takeRun()).id, "run-1");
  await assert.rejects(one.saveRun({ ...run, step: 3 }), TakenError);
  await assert.rejects(one.finishRun(run), TakenError);
  await other.saveRun({ ...run, step: 1 });
  assert.equal((await one.loadRun()).step, 1);
  assert.deepEqual(await log(), []);
});

test("a run that another window ended is not written again, but a new one may begin", async () => {
  const [one, other] = windows;
  await one.saveRun(run);
  await other.takeRun();
  await other.finishRun({ ...run, ended: "completed" });
  await assert.rejects(one.saveRun(run), TakenError);
  await one.saveRun(newRun(run.plan, "run-2"));
  assert.equal((await one.loadRun()).id, "run-2");
});

test("a run that is over is in the log and away, both at once and once only", async () => {
  const [one] = windows;
  await one.saveRun(run);
  await one.finishRun({ ...run, ended: "completed" });
  assert.deepEqual([await one.loadRun(), await log()], [null, [["run-1", "session_finished", "completed"]]]);
  await assert.rejects(one.finishRun({ ...run, ended: "completed" }), TakenError);
  assert.equal((await log()).length, 1);
});

test("a run is put away by the window that has it, and by no other", async () => {
  const [one, other] = windows;
  await one.saveRun(run);
  await other.clearRun();
  assert.equal((await one.loadRun()).id, "run-1");
  await one.clearRun();
  assert.equal(await one.loadRun(), null);
});

test("sharp pain is logged whichever window has the run, and kept until its questions are answered", async () => {
  const [one, other] = windows;
  await one.saveRun(run);
  await other.takeRun();
  const stopped = await one.stopRun({ ...run, ended: "sharp", sharpArm: "right" });
  assert.deepEqual([stopped.entry, (await one.loadRun()).entry], ["run-1", "run-1"]);
  assert.deepEqual(await log(), [["run-1", "session_finished", "sharp"]]);
  assert.equal((await one.stopRun(stopped)).entry, "run-1");
  assert.equal((await log()).length, 1);
});

test("sharp pain after the other window has logged the run is an entry of its own beside it", async () => {
  const [one, other] = windows;
  await one.saveRun(run);
  await other.takeRun();
  await other.finishRun({ ...run, ended: "stopped" });
  const { entry } = await one.stopRun({ ...run, ended: "sharp", sharpArm: "right" });
  assert.notEqual(entry, "run-1");
  assert.deepEqual(await log(), [
    ["run-1", "session_finished", "stopped"],
    [entry, "session_finished", "sharp"],
  ]);
});

test("a stop that is taken back is withdrawn, and the run is open under another id", async () => {
  const [one] = windows;
  await one.saveRun(run);
  const stopped = await one.stopRun({ ...run, ended: "sharp", sharpArm: "right" });
  await one.takeBackStop(stopped);
  const open = await one.loadRun();
  assert.deepEqual([open.ended, open.sharpArm, open.entry], ["", "", undefined]);
  assert.notEqual(open.id, "run-1");
  const [, correction] = await one.events();
  assert.deepEqual([correction.kind, correction.body], ["entry_corrected", { replaces: "run-1", body: null }]);
});

test("a stop is not taken back by a window that does not have the run any more", async () => {
  const [one, other] = windows;
  await one.saveRun(run);
  const stopped = await one.stopRun({ ...run, ended: "sharp", sharpArm: "right" });
  await other.takeRun();
  await assert.rejects(one.takeBackStop(stopped), TakenError);
  assert.equal((await log()).length, 1);
});

test("all that the phone holds is gone when it is erased, and the phone goes on", async () => {
  const [one] = windows;
  await one.saveRun(run);
  await one.addEvents({ kind: "note_read", on: "2026-03-02", body: { version: 1 } });
  await one.erase();
  assert.deepEqual([await one.loadRun(), await one.events(), await one.getMeta("client")], [null, [], undefined]);
  await one.setMeta("client", "mirela0001");
  assert.equal(await one.getMeta("client"), "mirela0001");
});
