import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";
import { createStore } from "../../../pwa_assets/js/edges/storage/store.js";
import { start } from "../../../pwa_assets/js/letters/page.js";
import { emptyPhone, page } from "../browser.js";

const TODAY = "2026-03-02";
let now = Date.UTC(2026, 2, 2, 18);
const TEMPLATES = `
  <template data-piece="who"><div class="who"><p data-slot="first"></p><b data-slot="name"></b><i data-slot="hours"></i>
    <p class="who-ways"><a data-way="ring" data-slot="ring"></a><a data-way="write"></a><a data-way="email"></a></p></div></template>
  <template data-screen="letters"><h1 data-slot="title" tabindex="-1"></h1><button data-act="earlier"></button><p data-none></p>
    <ol class="letters"></ol><form><textarea></textarea><p data-slot="length"></p><p data-fault hidden></p>
    <p data-slot="read"></p><button></button></form><div data-who></div></template>
  <template data-piece="letter"><li class="letter"><p data-slot="on"></p><b data-slot="by"></b><p data-slot="text"></p>
    <p data-slot="state"></p><button data-act="take_back"></button></li></template>
  <main id="page"></main>`;
const clock = {
  now: () => now,
  today: () => TODAY,
  zone: () => "Europe/Lisbon",
  after: (/** @type {number} */ _, /** @type {() => void} */ work) => {
    late.push(work);
    return () => late.splice(late.indexOf(work), 1);
  },
};
const words = {
  say: (/** @type {string} */ key) => key,
  fill: (/** @type {string} */ key, /** @type {Record<string, any>} */ gaps) =>
    `${key} ${Object.values(gaps).join(" ")}`,
  number: String,
  date: (/** @type {string} */ on) => on,
  time: () => "18:01",
  instant: () => "another day",
};
/** What waits for a moment of quiet. @type {(() => void)[]} */
let late = [];
/** @type {string} */
let phase;
/** @type {any} */
let store;
/** @type {HTMLElement} */
let root;
/** @type {string[]} */
let announced;
/** @type {() => void} */
let stop = () => undefined;

beforeEach(async () => {
  stop();
  await emptyPhone();
  [late, phase, announced] = [[], "waiting", []];
  store = createStore(/** @type {any} */ (clock), () => assert.fail("no other window is open"));
  await store.setMeta("client", "ansgar0001");
  root = /** @type {any} */ ((await page(TEMPLATES)).querySelector("#page"));
});

/** Lets the storage answer, and what waits for it. */
async function settle() {
  for (let round = 0; round < 12; round += 1) await new Promise((resolve) => setTimeout(resolve, 5));
}

async function open() {
  const sync = { phase: () => phase, onChange: () => () => undefined };
  const announce = (/** @type {string} */ text) => void announced.push(text);
  stop = start(root, /** @type {any} */ ({ store, sync, clock, words, announce }));
  await settle();
}

const field = () => /** @type {any} */ (root.querySelector("textarea"));
const fault = () => /** @type {any} */ (root.querySelector("[data-fault]"));
/** @param {string} name */
const slots = (name) => [...root.querySelectorAll(`.letter [data-slot="${name}"]`)].map((slot) => slot.textContent);

/** @param {string} text */
async function type(text) {
  field().value = text;
  field().dispatchEvent(new /** @type {any} */ (globalThis).window.Event("input", { bubbles: true }));
  await settle();
}

async function send() {
  const submit = new /** @type {any} */ (globalThis).window.Event("submit", { bubbles: true, cancelable: true });
  root.querySelector("form")?.dispatchEvent(submit);
  await settle();
}

/** @param {number} n @param {string} kind @param {any} body */
const entry = (n, kind, body) => ({
  id: `01920000-0000-7000-8000-0000000000${10 + n}`,
  kind,
  v: 1,
  on: TODAY,
  at: `2026-03-02T0${n}:00:00.000Z`,
  zone: "UTC",
  seq: n,
  body,
});

/** The practice's entries come, and all that waits is stored. @param {any[]} events */
async function sync(events) {
  const results = (await store.unsent()).map((/** @type {any} */ row) => ({ id: row.id, status: "stored" }));
  const pulled = events.map((event, at) => ({ seq: at + 1, event }));
  const reply = { epoch: "e", cursor: 1, results, events: pulled, more: false, bundle: null };
  await store.takeReply({ ...reply, practitioner: { name: "Hedda Marrow", letters_read: "soon" } }, TODAY, now);
  await settle();
}

test("what was typed is kept a moment later, and is there again when the page is opened again", async () => {
  await open();
  await type("Is the strap for");
  assert.equal((await store.letterDraft()).text, "");
  for (const work of late) work();
  await settle();
  assert.equal((await store.letterDraft()).text, "Is the strap for");
  stop();
  await open();
  assert.equal(field().value, "Is the strap for");
});

test("who leaves the page before that moment loses nothing either", async () => {
  await open();
  await type("Is the strap for");
  stop();
  await settle();
  assert.equal((await store.letterDraft()).text, "Is the strap for");
});

test("what is typed stays while the phone gets something new", async () => {
  await open();
  await type("Is the strap for");
  await store.setMeta("any", 1);
  await settle();
  assert.equal(field().value, "Is the strap for");
});

test("an empty letter and one that is too long are not sent, and the page says why beside the field", async () => {
  await open();
  await type("  \n ");
  await send();
  assert.deepEqual([fault().hidden, fault().textContent], [false, "letters.empty"]);
  await type("🙂".repeat(1001));
  await send();
  assert.deepEqual([fault().hidden, fault().textContent], [false, "letters.too_long 1001 1000"]);
  assert.equal([...field().value].length, 1001);
  await type("🙂".repeat(1000));
  assert.equal(fault().hidden, true);
  await send();
  assert.deepEqual([(await store.unsent()).length, field().value], [1, ""]);
});

test("a letter waits, is being sent, is sent and is read, and can be taken back only while it waits", async () => {
  await open();
  await type("Can I carry shopping?");
  await Promise.all([send(), send()]);
  const takeBack = () => /** @type {any} */ (root.querySelector('[data-act="take_back"]'));
  assert.deepEqual([slots("state"), takeBack().hidden], [["letters.waits"], false]);
  assert.equal(announced.at(-1), "letters.on_its_way");
  phase = "busy";
  await store.setMeta("any", 1);
  await settle();
  assert.deepEqual(slots("state"), ["letters.sending"]);
  phase = "signed_out";
  await store.setMeta("any", 2);
  await settle();
  assert.deepEqual(slots("state"), ["letters.unlinked"]);
  await sync([]);
  assert.deepEqual([slots("state"), takeBack().hidden], [["letters.sent_at 18:01"], true]);
  const [{ id }] = await store.letterRows();
  await sync([entry(1, "letter_seen", { letters: [id] })]);
  assert.deepEqual(slots("state"), ["letters.is_read"]);
  assert.equal(root.querySelector("h1")?.textContent, "letters.you_and Hedda Marrow");
});

test("a second tap right after the first is no empty letter, and a later one is", async () => {
  await open();
  await type("Once.");
  await send();
  await send();
  assert.deepEqual([fault().hidden, slots("text")], [true, ["Once."]]);
  now += 2000;
  await send();
  assert.deepEqual([fault().hidden, fault().textContent], [false, "letters.empty"]);
});

test("a letter that is taken back stands in the field again", async () => {
  await open();
  await type("Never mind.");
  await send();
  /** @type {any} */ (root.querySelector('[data-act="take_back"]')).click();
  await settle();
  assert.deepEqual([field().value, slots("text"), announced.at(-1)], ["Never mind.", [], "letters.taken_back"]);
});

test("a letter of the practice is new while the page is open, and one entry says that it was read", async () => {
  await sync([entry(2, "letter_answered", { text: "Rest today.", by: "Hedda" })]);
  await open();
  await store.setMeta("any", 1);
  await settle();
  assert.deepEqual([slots("by"), slots("state")], [["Hedda"], ["letters.new"]]);
  const read = (await store.unsent()).map((/** @type {any} */ { event }) => [event.kind, event.body]);
  assert.deepEqual(read, [["letter_read", { letters: [entry(2, "", {}).id] }]]);
  stop();
  await open();
  assert.deepEqual(slots("state"), [""]);
});

test("however often the page is drawn at once, one entry says that a letter was read", async () => {
  await sync([entry(2, "letter_answered", { text: "Rest today.", by: "Hedda" })]);
  const opening = open();
  for (let times = 0; times < 3; times += 1)
    document.dispatchEvent(new /** @type {any} */ (globalThis).window.Event("visibilitychange"));
  await opening;
  assert.equal((await store.unsent()).length, 1);
});

test("the last six letters are shown, and all of them when that is asked for", async () => {
  await sync([1, 2, 3, 4, 5, 6, 7, 8].map((n) => entry(n, "letter_answered", { text: `Letter ${n}.`, by: "Hedda" })));
  await open();
  const earlier = /** @type {any} */ (root.querySelector('[data-act="earlier"]'));
  assert.deepEqual([slots("text").length, slots("text")[0], earlier.hidden], [6, "Letter 3.", false]);
  earlier.click();
  await settle();
  assert.deepEqual([slots("text").length, slots("text")[0], earlier.hidden], [8, "Letter 1.", true]);
});

test("only the letters that stand on the screen are noted as read", async () => {
  await sync([1, 2, 3, 4, 5, 6, 7, 8].map((n) => entry(n, "letter_answered", { text: `Letter ${n}.`, by: "Hedda" })));
  await open();
  const noted = async () => (await store.unsent()).map((/** @type {any} */ { event }) => event.body.letters);
  const ids = [1, 2, 3, 4, 5, 6, 7, 8].map((n) => entry(n, "", {}).id);
  assert.deepEqual(await noted(), [ids.slice(2)]);
  /** @type {any} */ (root.querySelector('[data-act="earlier"]')).click();
  await settle();
  assert.deepEqual(await noted(), [ids.slice(2), ids.slice(0, 2)]);
});
