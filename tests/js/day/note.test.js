import assert from "node:assert/strict";
import { test } from "node:test";
import { seen } from "../../../pwa_assets/js/day/note.js";

const NOTE = "Slowly down.";

/** @param {number} version @returns {any} */
const reading = (version) => ({ id: "one", kind: "note_read", on: "2026-03-09", seq: 1, body: { version } });

/** @param {any[]} events @param {string} [note] */
const shown = (events, note = NOTE) => seen(/** @type {any} */ ({ bundle: { routine: { version: 2, note } }, events }));

test("a note is shown until the log says that it was read", () => {
  assert.deepEqual(shown([]), { version: 2, note: NOTE });
  assert.equal(shown([reading(2)]), null);
});

test("a note is shown although the note of an earlier version was read", () => {
  assert.deepEqual(shown([reading(1)]), { version: 2, note: NOTE });
});

test("a version without a note, and a phone without a routine, show none", () => {
  assert.equal(shown([], ""), null);
  assert.equal(seen(/** @type {any} */ ({ bundle: null, events: [] })), null);
});
