import assert from "node:assert/strict";
import { test } from "node:test";
import { heard, keptAnew } from "../../worker_browser.js";

const always = /** @type {any} */ (undefined);
const trial = keptAnew();

test("nothing is claimed before the worker has answered", async () => {
  assert.equal(trial.keeper.isKept(), null);
  trial.browser.next = { active: trial.browser.worker("activated"), installing: null };
  void trial.keeper.start(always);
  await heard();
  assert.equal(trial.keeper.isKept(), null);
});

test("the app counts as kept once the active worker has every file, and not before", async () => {
  trial.browser.next = { active: trial.browser.worker("activated"), installing: null };
  trial.browser.hasAll = false;
  void trial.keeper.start(always);
  await heard();
  assert.equal(trial.keeper.isKept(), false);
  trial.browser.hasAll = true;
  await trial.browser.waitOut();
  assert.equal(trial.keeper.isKept(), true);
  assert.equal(trial.browser.waits.length, 0);
});

test("a worker that is still fetching keeps nothing yet, however long that takes", async () => {
  trial.browser.next = { active: null, installing: trial.browser.worker("installing") };
  trial.browser.hasAll = true;
  void trial.keeper.start(always);
  await heard();
  assert.equal(trial.keeper.isKept(), false);
  assert.equal(trial.browser.waits.length, 0);
});

test("a worker that failed half way is tried again by itself, each time later, and at once when the network is back", async () => {
  const failing = trial.browser.worker("installing");
  trial.browser.next = { active: null, installing: failing };
  void trial.keeper.start(always);
  await heard();
  trial.browser.next = { active: null, installing: null };
  failing.state = "redundant";
  failing.onstatechange();
  await heard();
  assert.equal(trial.keeper.isKept(), false);
  const [first] = trial.browser.waits;
  await trial.browser.waitOut();
  const [second] = trial.browser.waits;
  assert.ok(second.ms > first.ms);
  trial.browser.next = { active: trial.browser.worker("activated"), installing: null };
  trial.browser.hasAll = true;
  trial.browser.online();
  await heard();
  assert.equal(trial.keeper.isKept(), true);
  assert.equal(trial.browser.waits.length, 0);
});

test("a worker whose script does not come is asked for again", async () => {
  trial.browser.next = null;
  void trial.keeper.start(always);
  await heard();
  assert.equal(trial.keeper.isKept(), false);
  trial.browser.next = { active: trial.browser.worker("activated"), installing: null };
  trial.browser.hasAll = true;
  await trial.browser.waitOut();
  assert.equal(trial.keeper.isKept(), true);
});

test("what was kept and is gone is not claimed any longer", async () => {
  trial.browser.next = { active: trial.browser.worker("activated"), installing: null };
  trial.browser.hasAll = true;
  void trial.keeper.start(always);
  await heard();
  trial.browser.hasAll = false;
  let notices = 0;
  trial.keeper.onChange(() => {
    notices += 1;
  });
  document.dispatchEvent(new Event("visibilitychange"));
  await heard();
  assert.equal(trial.keeper.isKept(), false);
  assert.ok(notices > 0);
});
