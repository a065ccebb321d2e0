import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";
import { createStore } from "../../../../pwa_assets/js/edges/storage/store.js";
import { newRun, TakenError } from "../../../../pwa_assets/js/pure/session/run.js";
import { emptyPhone } from "../../browser.js";
import { planWith, shortSession } from "../../builders.js";

const NOW = Date.UTC(2026, 2, 2, 18);
const clock = /** @type {any} */ ({
  now: () => NOW,
  today: () => "2026-03-02",
  zone: () => "Europe/Lisbon",
  hourOn: () => 12,
});
const blocked = () => assert.fail("no window keeps an older database");

/** Two windows of one phone. @type {import("../../../../pwa_assets/js/edges/storage/store.js").Store[]} */
let windows;
const run = newRun(planWith(shortSession()), "run-1");

beforeEach(async () => {
  await emptyPhone();
  windows = [createStore(clock, blocked), createStore(clock, blocked)];
  await windows[0].setMeta("client", "ansgar0001");
});

/** Each entry of the log in short. */
const log = async () =>
  (await windows[0].events()).map(
    /** @param {any} event */ ({ id, kind, body }) => [id, kind, body.ended ?? body.replaces],
  );

test("a session that is begun in one window is kept for the other, with the step that it had", async () => {
  const [here, there] = windows;
  await here.saveRun({ ...run, step: 2 });
  assert.equal((await there.loadRun()).step, 2);
  assert.deepEqual([await here.ownsRun(run), await there.ownsRun(run)], [true, false]);
});

test("a window that takes the run up has it, and what the first one writes of it fails from then on", async () => {
  const [here, there] = windows;
  await here.saveRun(run);
  assert.equal((await there.takeRun()).id, "run-1");
  await assert.rejects(here.saveRun({ ...run, step: 3 }), TakenError);
  await assert.rejects(here.finishRun(run), TakenError);
  await there.saveRun({ ...run, step: 1 });
  assert.equal((await here.loadRun()).step, 1);
  assert.deepEqual(await log(), []);
});

test("a run that another window ended is not written again, but a new one may begin", async () => {
  const [here, there] = windows;
  await here.saveRun(run);
  await there.takeRun();
  await there.finishRun({ ...run, ended: "completed" });
  await assert.rejects(here.saveRun(run), TakenError);
  await here.saveRun(newRun(run.plan, "run-2"));
  assert.equal((await here.loadRun()).id, "run-2");
});

test("a run that is over is in the log and away, both at once and once only", async () => {
  const [here] = windows;
  await here.saveRun(run);
  await here.finishRun({ ...run, ended: "completed" });
  assert.deepEqual([await here.loadRun(), await log()], [null, [["run-1", "session_finished", "completed"]]]);
  await assert.rejects(here.finishRun({ ...run, ended: "completed" }), TakenError);
  assert.equal((await log()).length, 1);
});

test("only the window that owns a run can clear it", async () => {
  const [here, there] = windows;
  await here.saveRun(run);
  await there.clearRun();
  assert.equal((await here.loadRun()).id, "run-1");
  await here.clearRun();
  assert.equal(await here.loadRun(), null);
});

test("sharp pain is logged whichever window has the run, and kept until its questions are answered", async () => {
  const [here, there] = windows;
  await here.saveRun(run);
  await there.takeRun();
  const stopped = await here.stopRun({ ...run, ended: "sharp", sharpArm: "right" });
  assert.deepEqual([stopped.entry, (await here.loadRun()).entry], ["run-1", "run-1"]);
  assert.deepEqual(await log(), [["run-1", "session_finished", "sharp"]]);
  assert.equal((await here.stopRun(stopped)).entry, "run-1");
  assert.equal((await log()).length, 1);
});

test("sharp pain after the other window has logged the run is an entry of its own beside it", async () => {
  const [here, there] = windows;
  await here.saveRun(run);
  await there.takeRun();
  await there.finishRun({ ...run, ended: "stopped" });
  const { entry } = await here.stopRun({ ...run, ended: "sharp", sharpArm: "right" });
  assert.notEqual(entry, "run-1");
  assert.deepEqual(await log(), [
    ["run-1", "session_finished", "stopped"],
    [entry, "session_finished", "sharp"],
  ]);
});

test("a stop that is taken back is withdrawn, and the run is open under another id", async () => {
  const [here] = windows;
  await here.saveRun(run);
  const stopped = await here.stopRun({ ...run, ended: "sharp", sharpArm: "right" });
  await here.takeBackStop(stopped);
  const open = await here.loadRun();
  assert.deepEqual([open.ended, open.sharpArm, open.entry], ["", "", undefined]);
  assert.notEqual(open.id, "run-1");
  const [, correction] = await here.events();
  assert.deepEqual([correction.kind, correction.body], ["entry_corrected", { replaces: "run-1", body: null }]);
});

test("a stop is not taken back by a window that does not have the run any more", async () => {
  const [here, there] = windows;
  await here.saveRun(run);
  const stopped = await here.stopRun({ ...run, ended: "sharp", sharpArm: "right" });
  await there.takeRun();
  await assert.rejects(here.takeBackStop(stopped), TakenError);
  assert.equal((await log()).length, 1);
});

test("all that the phone holds is gone when it is erased, and the phone goes on", async () => {
  const [here] = windows;
  await here.saveRun(run);
  await here.addEvents({ kind: "note_read", on: "2026-03-02", body: { version: 1 } });
  await here.erase();
  assert.deepEqual([await here.loadRun(), await here.events(), await here.getMeta("client")], [null, [], undefined]);
  await here.setMeta("client", "mirela0001");
  assert.equal(await here.getMeta("client"), "mirela0001");
});
