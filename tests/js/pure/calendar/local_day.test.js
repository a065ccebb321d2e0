import assert from "node:assert/strict";
import { test } from "node:test";
import {
  addDays,
  dayAt,
  dayNumber,
  dayOfNumber,
  daysBetween,
} from "../../../../pwa_assets/js/pure/calendar/local_day.js";

const DAY_MS = 86_400_000;

test("days are numbered as the language's own calendar numbers them, over two centuries", () => {
  // Date must use the Gregorian calendar: ECMA-262, Time Values and Time Range.
  for (let number = dayNumber("1900-01-01"); number <= dayNumber("2100-12-31"); number += 1) {
    const day = new Date(number * DAY_MS).toISOString().slice(0, 10);
    assert.equal(dayOfNumber(number), day);
    assert.equal(dayNumber(day), number);
  }
});

test("the epoch is day 0", () => {
  assert.equal(dayNumber("1970-01-01"), 0);
});

test("days are counted over leap days and years", () => {
  assert.equal(addDays("2024-02-28", 1), "2024-02-29");
  assert.equal(addDays("2026-02-28", 1), "2026-03-01");
  assert.equal(addDays("2026-01-01", -1), "2025-12-31");
  assert.equal(daysBetween("2023-12-31", "2025-01-01"), 367);
  assert.equal(daysBetween("2026-03-02", "2026-03-01"), -1);
});

test("a client's day starts at three in the morning, by the wall clock of the place", () => {
  const at = (/** @type {string} */ utc, /** @type {number} */ offset) => dayAt(Date.parse(utc), offset);
  assert.equal(at("2026-03-02T02:59:59.999Z", 0), "2026-03-01");
  assert.equal(at("2026-03-02T03:00:00Z", 0), "2026-03-02");
  // 13 hours ahead of UTC, and 8 hours behind UTC.
  assert.deepEqual([at("2026-03-01T13:59:00Z", -780), at("2026-03-01T14:00:00Z", -780)], ["2026-03-01", "2026-03-02"]);
  assert.deepEqual([at("2026-03-02T10:59:00Z", 480), at("2026-03-02T11:00:00Z", 480)], ["2026-03-01", "2026-03-02"]);
});
