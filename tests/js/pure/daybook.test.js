import assert from "node:assert/strict";
import { test } from "node:test";
import { eventsOn, firstDay, inForce } from "../../../pwa_assets/js/pure/daybook.js";

/** @param {number} seq @param {string} kind @param {string} on @param {any} [body] */
const event = (seq, kind, on, body = { arms: {} }) => ({
  id: `id-${seq}`,
  kind,
  v: 1,
  on,
  at: "",
  zone: "",
  seq,
  body,
});

const SESSION = event(1, "session_finished", "2026-03-02", { arms: { right: { worst: 2 } } });

test("a copy of an entry is the same entry", () => {
  assert.deepEqual(inForce([SESSION, { ...SESSION }]), [SESSION]);
});

test("a correction takes the place of what it names, and a withdrawal takes it away", () => {
  const better = { arms: { right: { worst: 5 } } };
  const fix = event(2, "entry_corrected", "2026-03-03", { replaces: SESSION.id, body: better });
  assert.deepEqual(inForce([fix, SESSION]), [{ ...SESSION, body: better }]);
  const gone = event(3, "entry_corrected", "2026-03-03", { replaces: SESSION.id, body: null });
  assert.deepEqual(inForce([gone, fix, SESSION]), []);
});

test("entries are found by kind and day", () => {
  const other = event(2, "morning_reported", "2026-03-02");
  const later = event(3, "session_finished", "2026-03-03");
  assert.deepEqual(eventsOn([SESSION, other, later], "session_finished", "2026-03-02"), [SESSION]);
});

test("the first day is that of the first routine, whatever came to the log first", () => {
  const received = ["2026-03-09", "2026-03-02"].map((on, i) => event(i, "routine_received", on));
  assert.equal(firstDay(received), "2026-03-02");
  assert.equal(firstDay([SESSION]), null);
});
