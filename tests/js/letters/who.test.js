import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";
import { seen, shouldBeSeen } from "../../../pwa_assets/js/day/who.js";
import { drawWho, showWho } from "../../../pwa_assets/js/letters/who.js";
import { page } from "../browser.js";

const TEMPLATES = `
  <template data-piece="who"><div class="who"><p data-slot="first"></p><p><b data-slot="name"></b><span data-slot="hours"></span></p>
    <p class="who-ways"><a data-way="ring" data-slot="ring"></a><a data-way="write">Write</a><a data-way="email">E-mail</a></p></div></template>
  <div data-who></div>`;
const HEDDA = { name: "Hedda Marrow", telephone: "", hours: "", email: "", letters_read: "" };
const words = /** @type {any} */ ({
  say: (/** @type {string} */ key) => key,
  fill: (/** @type {string} */ key, /** @type {Record<string, string>} */ gaps) => `${key} ${Object.values(gaps)}`,
});
/** @type {HTMLElement} */
let body;

beforeEach(async () => {
  body = await page(TEMPLATES);
});

/** What is drawn: the visible texts and the targets of the links. @param {any} who @param {any} [options] */
function drawn(who, options) {
  body.querySelector("[data-who]")?.replaceChildren(...drawWho(words, who, options));
  const shown = [...body.querySelectorAll("[data-who] [data-slot]:not([hidden])")].map((slot) => slot.textContent);
  const links = [...body.querySelectorAll("[data-who] a")].map((link) => link.getAttribute("href"));
  return [shown, links];
}

test("a number is a link to ring it, without the signs that nobody dials", () => {
  const who = { ...HEDDA, telephone: "+44 20-7946.0102", hours: "weekdays 9 to 17" };
  const texts = ["Hedda Marrow", "weekdays 9 to 17", "who.ring +44 20-7946.0102"];
  assert.deepEqual(drawn(who), [texts, ["tel:+442079460102", "#letters"]]);
});

test("without a number and an address there is the name, and one can only write", () => {
  assert.deepEqual(drawn(HEDDA), [["Hedda Marrow"], ["#letters"]]);
  assert.deepEqual(drawn(HEDDA, { mayWrite: false }), [["Hedda Marrow"], []]);
  assert.equal(body.querySelector("[data-who] .who-ways")?.hasAttribute("hidden"), true);
});

test("an address cannot bring a letter of its own with it", () => {
  assert.deepEqual(drawn({ ...HEDDA, email: "desk@marrow.example?body=all well" })[1], [
    "#letters",
    "mailto:desk@marrow.example%3Fbody%3Dall%20well",
  ]);
});

test("in an emergency another number comes first, and no letter will do", () => {
  assert.deepEqual(drawn(HEDDA, { isEmergency: true }), [["who.emergency_first", "Hedda Marrow"], []]);
});

test("before the first contact, and after that of an older app, nobody is named", () => {
  assert.deepEqual(drawn(undefined), [[], []]);
  assert.deepEqual(drawn("Hedda Marrow"), [[], []]);
});

test("a page's place is filled from the last contact with the practice", async () => {
  const store = { getMeta: async (/** @type {string} */ key) => (key === "practitioner" ? HEDDA : null) };
  await showWho(body, /** @type {any} */ ({ store, words }));
  assert.equal(body.querySelector("[data-who] b")?.textContent, "Hedda Marrow");
});

test("the day page names them once: at a stop and at a rest that should be seen another part does", () => {
  const training = { why: ["wait"], isHeldNow: false };
  const rest = { why: ["still-resting", "rest-be-seen"], isHeldNow: false };
  const held = { why: ["rest-be-seen"], isHeldNow: true };
  const at = (/** @type {any[]} */ ...days) => seen(/** @type {any} */ ({ practitioner: HEDDA, days }));
  assert.equal(at(training), HEDDA);
  assert.equal(at(training, rest), null);
  assert.equal(at(held), null);
  assert.deepEqual(
    [training, rest, held].map(/** @param {any} day */ (day) => shouldBeSeen(day)),
    [false, true, false],
  );
  assert.equal(seen(/** @type {any} */ ({ practitioner: undefined, days: [training] })), null);
});
