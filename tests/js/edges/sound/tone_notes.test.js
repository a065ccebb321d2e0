import assert from "node:assert/strict";
import { test } from "node:test";
import { playNotes } from "../../../../pwa_assets/js/edges/sound/tone_notes.js";
import { cueTimes } from "../../../../pwa_assets/js/pure/session/cue_times.js";
import { reps, step } from "../../builders.js";
import { Hardware } from "../../hardware.js";

/** A session in which every kind of tone is due. */
const EVERY_KIND = [step("prepare", 5), reps(2), step("rest", 30), step("change_arm", 15), reps(2), step("done", 0)];
const KINDS = [...new Set(cueTimes(EVERY_KIND).map(({ tone }) => tone))];
// A whole tone of equal temperament is a sixth of an octave (value from memory). People without musical training hear it.
const WHOLE_TONE = 2 ** (1 / 6) - 1e-3;

/** @param {any} tone */
function notesOf(tone) {
  const hardware = new Hardware();
  playNotes(/** @type {any} */ (hardware), /** @type {any} */ (null), tone, 10);
  return hardware.notes;
}

test("each kind of tone has its own number of notes, or one that is clearly higher or lower", () => {
  assert.equal(KINDS.length, 7);
  for (const [i, kind] of KINDS.entries()) {
    for (const other of KINDS.slice(i + 1)) {
      const [notes, others] = [notesOf(kind), notesOf(other)];
      const apart = notes.map(
        ({ hertz }, at) => Math.max(hertz, others[at]?.hertz) / Math.min(hertz, others[at]?.hertz),
      );
      assert.ok(notes.length !== others.length || apart.some((ratio) => ratio > WHOLE_TONE), `${kind} and ${other}`);
    }
  }
});

test("the way up sounds higher than the way down, and every tone begins at its time", () => {
  assert.ok(notesOf("up")[0].hertz > notesOf("down")[0].hertz * WHOLE_TONE);
  for (const kind of KINDS) assert.equal(notesOf(kind)[0].at, 10);
});
