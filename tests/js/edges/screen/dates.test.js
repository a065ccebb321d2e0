import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";
import { calendar } from "../../../../pwa_assets/js/edges/screen/dates.js";
import { createWords } from "../../../../pwa_assets/js/edges/screen/words.js";
import { page } from "../../browser.js";

const TODAY = "2026-11-28";
/** @type {Map<string, string>} */
let kept;

beforeEach(() => {
  kept = new Map();
  const storage = { getItem: (/** @type {string} */ key) => kept.get(key) ?? null, setItem: kept.set.bind(kept) };
  Object.defineProperty(globalThis, "localStorage", { value: storage, configurable: true });
});

/** What Intl itself writes. @param {string} tag @param {string} on @param {Intl.DateTimeFormatOptions} options */
const plainly = (tag, on, options) =>
  new Intl.DateTimeFormat(tag, { ...options, timeZone: "UTC" }).format(new Date(`${on}T12:00:00Z`));

for (const tag of ["en-GB", "es", "pl"]) {
  test(`a day that was prepared is written as Intl writes it in ${tag}`, () => {
    calendar(tag, []).prepareDays(TODAY);
    const later = calendar(tag, []);
    for (const on of ["2026-11-01", TODAY, "2026-12-31", "2027-01-01"]) {
      assert.equal(later.weekday(on), plainly(tag, on, { weekday: "long" }));
      assert.equal(later.date(on), plainly(tag, on, { day: "numeric", month: "long" }));
      assert.equal(later.day(on), plainly(tag, on, { weekday: "long", day: "numeric", month: "long" }));
    }
  });
}

test("a time that was prepared is written as Intl writes it, at every hour and minute, in many languages", () => {
  const tags = [
    "en",
    "en-GB",
    "es",
    "es-MX",
    "pl",
    "de",
    "fr-CA",
    "ar",
    "hi",
    "ko",
    "zh",
    "ja",
    "bg",
    "fi",
    "fa",
    "he",
    "pt-BR",
    "th",
    "am",
    "da",
  ];
  for (const tag of tags) {
    calendar(tag, []).prepareDays(TODAY);
    const later = calendar(tag, []);
    const plain = new Intl.DateTimeFormat(tag, { timeStyle: "short", numberingSystem: "latn" });
    for (let minute = 0; minute < 24 * 60; minute += 1) {
      const at = new Date(2026, 10, 28, 0, minute).getTime();
      assert.equal(later.time(at), plain.format(at), `${tag} ${minute}`);
    }
  }
});

test("prepared days are those of their own language", () => {
  calendar("es", []).prepareDays(TODAY);
  assert.equal(calendar("en-GB", []).weekday(TODAY), "Saturday");
});

test("a day that was not prepared, or a storage that holds something else, costs only time", () => {
  calendar("en-GB", []).prepareDays(TODAY);
  assert.equal(calendar("en-GB", []).weekday("2028-02-29"), "Tuesday");
  for (const other of ["not JSON", "null", "[]", '{"of":"en-GB"}']) {
    kept.set("halfturn-written-days", other);
    assert.equal(calendar("en-GB", []).date(TODAY), "28 November");
  }
});

test("a full storage is no trouble", () => {
  Object.assign(globalThis.localStorage, {
    setItem: () => {
      throw new Error("full");
    },
  });
  calendar("en-GB", []).prepareDays(TODAY);
  assert.equal(calendar("en-GB", []).weekday(TODAY), "Saturday");
});

test("small whole numbers need no formatter, and are written as it writes them", async () => {
  await page("");
  for (const tag of ["en", "es", "pl", "ar", "de-CH"]) {
    document.documentElement.lang = tag;
    const words = createWords(document);
    const plain = new Intl.NumberFormat(tag, { numberingSystem: "latn" });
    for (const n of [0, 1, 12, 999, 1000, 12_345, 0.5, -3])
      assert.equal(words.number(n), plain.format(n), `${tag} ${n}`);
  }
});
