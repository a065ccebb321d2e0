import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";
import { createStore } from "../../../../pwa_assets/js/edges/storage/store.js";
import { lettersOf, unreadOf } from "../../../../pwa_assets/js/pure/letters/thread.js";
import { emptyPhone } from "../../browser.js";

const TODAY = "2026-03-02";
const NOW = Date.UTC(2026, 2, 2, 18);
const clock = /** @type {any} */ ({ now: () => NOW, today: () => TODAY, zone: () => "Europe/Lisbon" });

/** @type {import("../../../../pwa_assets/js/edges/storage/store.js").Store} */
let store;

beforeEach(async () => {
  await emptyPhone();
  store = createStore(clock, () => assert.fail("no other window is open"));
  await store.setMeta("client", "ansgar0001");
});

/** The texts of the letters that the phone shows. */
const shown = async () => lettersOf((await store.letterRows()).map(({ event }) => event)).map(({ text }) => text);
const states = async () => (await store.letterRows()).map(({ event, state }) => [event.kind, state]);

/** A reply that says that everything which waits is stored, and brings these entries. @param {any[]} events @param {any} [other] */
async function sync(events = [], other = {}) {
  const results = (await store.unsent()).map(({ id }) => ({ id, status: "stored" }));
  const numbered = events.map((event, at) => ({ seq: at + 1, event }));
  const reply = { epoch: "e", cursor: 1, results, events: numbered, more: false, bundle: null, ...other };
  await store.takeReply(reply, TODAY, NOW + 60_000);
}

/** @param {string} kind @param {any} body @param {number} n */
const entryOf = (kind, body, n) => ({
  id: `01920000-0000-7000-8000-00000000000${n}`,
  kind,
  v: 1,
  on: TODAY,
  at: "2026-03-02T19:00:00.000Z",
  zone: "UTC",
  seq: n,
  body,
});

test("a draft is kept until it is sent, and then there is an empty one under another id", async () => {
  const { id, text } = await store.letterDraft();
  assert.equal(text, "");
  await store.keepLetterDraft({ id, text: "Is the strap for" });
  assert.deepEqual(await store.letterDraft(), { id, text: "Is the strap for" });
  await store.sendLetter({ id, text: "Is the strap for nights?" }, TODAY);
  const next = await store.letterDraft();
  assert.deepEqual([next.text, next.id === id], ["", false]);
  assert.deepEqual(await shown(), ["Is the strap for nights?"]);
});

test("a letter that is sent twice is one letter", async () => {
  const draft = { ...(await store.letterDraft()), text: "Once." };
  await Promise.all([store.sendLetter(draft, TODAY), store.sendLetter(draft, TODAY)]);
  await store.sendLetter(draft, TODAY);
  assert.deepEqual(await states(), [["letter_written", "waiting"]]);
});

test("a draft that went on in another window after it was sent is a letter of its own", async () => {
  const { id } = await store.letterDraft();
  await store.sendLetter({ id, text: "Once." }, TODAY);
  await store.sendLetter({ id, text: "Once. And another thing." }, TODAY);
  assert.deepEqual((await shown()).sort(), ["Once.", "Once. And another thing."]);
});

test("the phone knows when the server had a letter, also after the log has gone back", async () => {
  await store.sendLetter({ ...(await store.letterDraft()), text: "Sent." }, TODAY);
  await sync();
  const [row] = await store.letterRows();
  assert.deepEqual([row.state, row.sentAt], ["sent", NOW + 60_000]);
  await store.startOver("another");
  assert.deepEqual(await states(), [["letter_written", "waiting"]]);
});

test("a letter that waits can be taken back, and its words stand before what is written already", async () => {
  await store.sendLetter({ ...(await store.letterDraft()), text: "First." }, TODAY);
  const [{ id }] = await store.letterRows();
  await store.keepLetterDraft({ ...(await store.letterDraft()), text: "Second." });
  assert.equal(await store.takeBackLetter(id, TODAY), true);
  assert.deepEqual(await shown(), []);
  assert.equal((await store.letterDraft()).text, "First.\n\nSecond.");
  assert.deepEqual(
    (await store.unsent()).map(({ event }) => event.kind),
    ["letter_written", "entry_corrected"],
  );
});

test("a letter that is sent cannot be taken back, and nothing is changed", async () => {
  await store.sendLetter({ ...(await store.letterDraft()), text: "Sent." }, TODAY);
  await sync();
  const [{ id }] = await store.letterRows();
  assert.equal(await store.takeBackLetter(id, TODAY), false);
  assert.deepEqual([await shown(), (await store.letterDraft()).text, await store.unsent()], [["Sent."], "", []]);
});

test("a letter that the practice read before the phone heard that it was sent comes back into the thread", async () => {
  await store.sendLetter({ ...(await store.letterDraft()), text: "Too late." }, TODAY);
  const [{ id }] = await store.letterRows();
  await store.takeBackLetter(id, TODAY);
  await sync([entryOf("letter_seen", { letters: [id] }, 1)]);
  assert.deepEqual(await shown(), ["Too late."]);
});

test("an answer is among the entries of the day page until it is read, however old it is", async () => {
  const answer = { ...entryOf("letter_answered", { text: "Rest today.", by: "Hedda" }, 2), on: "2025-11-02" };
  await sync([answer]);
  const { events } = await store.snapshot();
  assert.deepEqual(
    unreadOf(events).map(({ text, by }) => [text, by]),
    [["Rest today.", "Hedda"]],
  );
  await store.addEvents({ kind: "letter_read", on: TODAY, body: { letters: [answer.id] } });
  assert.deepEqual(unreadOf((await store.snapshot()).events), []);
});

test("when the server has lost its log, the phone sends no letter of the practice", async () => {
  await sync([
    entryOf("letter_answered", { text: "Well.", by: "Hedda" }, 3),
    entryOf("letter_seen", { letters: [] }, 4),
  ]);
  await store.startOver("another");
  assert.deepEqual(await store.unsent(), []);
});
