import assert from "node:assert/strict";
import { test } from "node:test";
import { csvOf, tableOf } from "../../../../pwa_assets/js/pure/settings/table.js";

const SET = { movement: "palm_down", reps: 12, load_kg: 0.5, range: 0.75, share: 500 };
let entries = 0;
/** @param {string} kind @param {object} body @returns {any} */
const kept = (kind, body) => {
  entries += 1;
  const id = `01920000-0000-7000-8000-${String(entries).padStart(12, "0")}`;
  return { state: "sent", event: { id, seq: entries, kind, body, on: "2026-03-09", at: "2026-03-09T08:00:00.000Z" } };
};
/** @param {any} target @param {object|null} body */
const correction = ({ event }, body) => kept("entry_corrected", { replaces: event.id, body });

test("a session has a row for each set of each arm, with that arm's rating", () => {
  const arms = { left: { sets: [SET, { ...SET, movement: "palm_up" }], worst: 3 }, right: { sets: [], worst: null } };
  const rows = tableOf([kept("session_finished", { arms, ended: "completed" })]);
  assert.deepEqual(
    rows.map(({ arm, movement = null, worst }) => [arm, movement, worst]),
    [
      ["left", "palm_down", 3],
      ["left", "palm_up", 3],
      ["right", null, null],
    ],
  );
});

test("a morning has a row for each arm, and any other entry one row with all it says", () => {
  const rows = tableOf([
    kept("morning_reported", { arms: { left: { pain: 2 }, right: { pain: 0, sharp: true } } }),
    kept("letter_written", { text: 'He said "slowly", and left.\nThen?' }),
    kept("of_later", { any: 1 }),
  ]);
  assert.deepEqual(
    rows.map(({ pain = null, sharp = null, more = null }) => [pain, sharp, more]),
    [
      [2, false, null],
      [0, true, null],
      [null, null, '{"text":"He said \\"slowly\\", and left.\\nThen?"}'],
      [null, null, '{"any":1}'],
    ],
  );
});

// RFC 4180, section 2: a field with a quote stands in quotes, its own quotes are doubled, and a line ends with CRLF.
test("signs with a meaning of their own are quoted, and nothing begins a formula", () => {
  const text = csvOf(tableOf([kept("letter_written", { text: '=1+1, "a"' })]));
  const [head, row, rest] = text.split("\r\n");
  assert.equal(head, "\uFEFFday,at,kind,arm,pain,worst,sharp,movement,reps,load_kg,range,more,state,changed");
  assert.equal(
    row,
    '2026-03-09,2026-03-09T08:00:00.000Z,letter_written,,,,,,,,,"{""text"":""=1+1, \\""a\\""""}",sent,',
  );
  assert.equal(rest, "");
});

test("an entry that was corrected reads as it does now, and one that was withdrawn is marked", () => {
  const wrong = kept("morning_reported", { arms: { right: { pain: 8, sharp: true } } });
  const copy = kept("morning_reported", { arms: { right: { pain: 3 } } });
  const rows = tableOf([wrong, copy, correction(wrong, { arms: { right: { pain: 1 } } }), correction(copy, null)]);
  assert.deepEqual(
    rows.map(({ kind, pain, sharp, changed }) => [kind, pain, sharp, changed]),
    [
      ["morning_reported", 1, false, "corrected"],
      ["morning_reported", 3, false, "withdrawn"],
    ],
  );
});

// A spreadsheet reads a cell that begins with one of these signs as a formula (value from memory); a quote before it makes it text.
test("a text that begins as a formula does is written as text, and a number stays a number", () => {
  for (const movement of ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1"]) {
    const [, row] = csvOf([{ movement, load_kg: -0.5 }]).split("\r\n");
    assert.equal(row, `,,,,,,,'${movement},,-0.5,,,,`);
  }
});
