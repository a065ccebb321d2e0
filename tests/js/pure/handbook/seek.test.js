import assert from "node:assert/strict";
import { test } from "node:test";
import { folded, seek } from "../../../../pwa_assets/js/pure/handbook/seek.js";

const LEAVES = [
  { id: "hands", title: "Hands at home", lines: ["Kettle, pan, bag: two hands.", "Take breaks."] },
  { id: "night", title: "El sueño", lines: ["No duermas sobre el codo.", "La muñeca va recta, también de día."] },
];
const ids = (/** @type {string} */ query) => seek(LEAVES, query).map(({ id }) => id);

test("a word finds its page, whatever its case and its accents", () => {
  assert.deepEqual(ids("kettle"), ["hands"]);
  assert.deepEqual(ids("KETTLE"), ["hands"]);
  assert.deepEqual(ids("muneca"), ["night"]);
  assert.deepEqual(ids("Sueño"), ["night"]);
  assert.deepEqual(ids("TAMBIEN"), ["night"]);
});

test("an accent that comes as a sign of its own counts no more than one that does not", () => {
  assert.deepEqual(ids("tambie\u0301n"), ["night"]);
  const spread = [{ id: "one", title: "Uno", lines: ["el suen\u0303o"] }];
  assert.equal(seek(spread, "sueño").length, 1);
});

test("a page must hold every word, in any order and anywhere", () => {
  assert.deepEqual(ids("bag home"), ["hands"]);
  assert.deepEqual(ids("bag codo"), []);
  assert.deepEqual(ids("o"), ["hands", "night"]);
});

test("signs alone, blanks and nothing find nothing", () => {
  for (const query of ["", "   ", "…?!", "-"]) assert.deepEqual(ids(query), []);
});

test("the place is shown with its own letters, its word apart", () => {
  const [{ before, match, after }] = seek(LEAVES, "muneca");
  assert.deepEqual([before, match, after], ["La ", "muñeca", " va recta, también de día."]);
});

test("of a long line the beginning and the end are left out at a blank", () => {
  const line = `${"one two three ".repeat(10)}kettle${" four five six".repeat(10)}`;
  const [{ before, match, after }] = seek([{ id: "long", title: "Long", lines: [line] }], "kettle");
  assert.equal(match, "kettle");
  assert.match(before, /^…(one|two|three) [a-z ]{20,40}$/);
  assert.match(after, /^ four five[a-z ]{20,50}(four|five|six)…$/);
  assert.ok(line.includes(before.slice(1) + match + after.slice(0, -1)));
});

test("a folded text is as long as the text, sign by sign", () => {
  for (const text of ["Straße", "İstanbul", "ﬁn", "muñeca", "👍🏽 sí"])
    assert.equal(folded(text).length, text.length, text);
});
