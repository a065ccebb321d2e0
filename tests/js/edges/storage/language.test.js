import assert from "node:assert/strict";
import { test } from "node:test";
import { heard, keptAnew } from "../../worker_browser.js";

const always = /** @type {any} */ (undefined);
const trial = keptAnew();

test("a first visit registers the worker of the page's language", async () => {
  trial.browser.hasAll = true;
  await trial.keeper.start(always);
  assert.deepEqual(trial.browser.locales, ["en"]);
});

test("a page that was opened by choosing its language takes the phone over, and its address forgets the choice", async () => {
  trial.browser.hasAll = true;
  location.hash = "#day?chosen";
  trial.browser.container.controller = trial.browser.worker("activated", "pl");
  trial.browser.next = {
    active: trial.browser.worker("activated", "pl"),
    waiting: trial.browser.worker("installed", "en"),
    installing: null,
  };
  await trial.keeper.start(always);
  assert.deepEqual(trial.browser.locales, ["en"]);
  assert.deepEqual(trial.browser.orders, [["en", "skip_waiting"]]);
  assert.equal(location.hash, "#day");
  assert.equal(trial.keeper.isNewerWaiting(), false);
});

test("a worker that must stop before another can take over is asked nothing, since a question would start it again", async () => {
  trial.browser.hasAll = true;
  location.hash = "#day?chosen";
  const [earlier, chosen] = [trial.browser.worker("activated", "pl"), trial.browser.worker("installed", "en")];
  trial.browser.next = { active: earlier, waiting: chosen, installing: null };
  await trial.keeper.start(always);
  await trial.browser.waitOut();
  assert.deepEqual(trial.browser.questioned, []);
  trial.browser.next = { active: earlier, waiting: null, installing: chosen };
  await trial.browser.waitOut();
  assert.deepEqual(trial.browser.questioned, []);
  trial.browser.next = { active: chosen, waiting: null, installing: null };
  chosen.state = "activated";
  chosen.onstatechange();
  await heard();
  assert.deepEqual(trial.browser.questioned, ["en"]);
  assert.equal(trial.keeper.isKept(), true);
});

test("a window that is left in the earlier language follows when it is looked at, and never takes the choice back", async () => {
  trial.browser.hasAll = true;
  trial.browser.known = trial.browser.next = {
    active: trial.browser.worker("activated", "pl"),
    waiting: null,
    installing: null,
  };
  trial.browser.container.controller = trial.browser.worker("activated", "pl");
  await trial.keeper.start(always);
  assert.deepEqual(trial.browser.locales, ["pl"]);
  trial.browser.online();
  assert.equal(trial.browser.reloads.length, 1);
});

test("a window with something half done does not reload by itself", async () => {
  trial.browser.hasAll = true;
  trial.browser.container.controller = trial.browser.worker("activated", "pl");
  await trial.keeper.start(always);
  for (const screen of ["session", "morning", "warnings"]) {
    document.body.dataset.screen = screen;
    trial.browser.online();
  }
  assert.equal(trial.browser.reloads.length, 0);
});

test("a newer build in the same language waits for the client", async () => {
  trial.browser.hasAll = true;
  trial.browser.container.controller = trial.browser.worker("activated");
  trial.browser.next = {
    active: trial.browser.worker("activated"),
    waiting: trial.browser.worker("installed"),
    installing: null,
  };
  await trial.keeper.start(always);
  assert.deepEqual(trial.browser.orders, []);
  assert.equal(trial.keeper.isNewerWaiting(), true);
});

test("a window that did not choose leaves the worker alone that another window has just asked for", async () => {
  trial.browser.hasAll = true;
  const [own, other] = [trial.browser.worker("activated"), trial.browser.worker("installed", "pl")];
  trial.browser.container.controller = own;
  trial.browser.known = trial.browser.next = { active: own, waiting: other, installing: null };
  await trial.keeper.start(always);
  trial.browser.known = trial.browser.next = { active: own, waiting: null, installing: other };
  trial.browser.online();
  await heard();
  assert.deepEqual([...new Set(trial.browser.locales)], ["pl"]);
});
