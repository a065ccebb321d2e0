import assert from "node:assert/strict";
import { test } from "node:test";
import { isBelievable, refusalIn } from "../../../../pwa_assets/js/pure/sync/reply.js";

const JSON_TYPE = "application/json";
const WHOLE = {
  format: 1,
  epoch: "e1",
  cursor: 7,
  results: [{ id: "a", status: "stored" }],
  events: [{ seq: 7, event: { id: "b" } }],
  more: false,
  bundle: null,
};

test("a whole answer is believed, with a bundle or without", () => {
  assert.ok(isBelievable(JSON_TYPE, WHOLE));
  assert.ok(isBelievable("application/json; charset=utf-8", { ...WHOLE, bundle: {} }));
});

test("a page of another network is no answer", () => {
  assert.ok(!isBelievable("text/html", WHOLE));
  assert.ok(!isBelievable("application/jsonp", { ...WHOLE, format: 2 }));
  assert.ok(!isBelievable(null, WHOLE));
  assert.ok(!isBelievable(JSON_TYPE, null));
  assert.ok(!isBelievable(JSON_TYPE, [WHOLE]));
});

test("an answer with one part amiss is no answer", () => {
  const amiss = [
    { format: 2 },
    { epoch: null },
    { cursor: "7" },
    { cursor: 1.5 },
    { results: {} },
    { results: [{ id: 1, status: "stored" }] },
    { results: [{ id: "a", status: "lost" }] },
    { events: null },
    { events: [{ seq: 7, event: null }] },
    { events: [{ seq: 7, event: {} }] },
    { more: "no" },
    { bundle: undefined },
    { bundle: [] },
  ];
  for (const part of amiss) assert.ok(!isBelievable(JSON_TYPE, { ...WHOLE, ...part }), JSON.stringify(part));
});

test("the server's own refusal is read, and nobody else's", () => {
  const error = { code: "revoked", message: "This phone was signed out.", again: false };
  assert.deepEqual(refusalIn(JSON_TYPE, { error }), error);
  assert.deepEqual(refusalIn(JSON_TYPE, { error: { code: "busy", again: "yes" } }), {
    code: "busy",
    message: "",
    again: false,
  });
  for (const [type, body] of [
    ["text/html", { error }],
    [JSON_TYPE, { error: "no" }],
    [JSON_TYPE, { error: {} }],
    [JSON_TYPE, null],
  ]) {
    assert.equal(refusalIn(/** @type {string} */ (type), body), null);
  }
});
