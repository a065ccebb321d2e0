import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";
import { draw, seen } from "../../../pwa_assets/js/dose/tomorrow.js";
import { armDays } from "../../../pwa_assets/js/pure/dose/today.js";
import { page } from "../browser.js";
import { anchorAt, BUNDLE, event, FIRST, HELD, SECOND, sessionBody } from "../small_bundle.js";

const TODAY = "2026-03-02";
const TEMPLATES = `
  <template data-piece="branches"><section><h3 data-slot="arm"></h3><ul class="branches"></ul></section></template>
  <template data-piece="branch"><li><span data-slot="when"></span> <strong data-slot="next"></strong></li></template>
  <template data-piece="sentence"><p data-slot="text"></p></template>
  <div id="part"><div data-body></div></div>`;
/** Each text is its key and gaps, so that a test sees which text was chosen. */
const gaps = (/** @type {object} */ named) =>
  Object.entries(named)
    .map(([name, value]) => `${name} ${value}`)
    .join(", ");
const words = {
  say: (/** @type {string} */ key) => key,
  fill: (/** @type {string} */ key, /** @type {object} */ named) => `${key}(${gaps(named)})`,
  plural: (/** @type {string} */ key, /** @type {number} */ n) => `${n} ${key}`,
};

/** @type {HTMLElement} */
let part;

beforeEach(async () => {
  part = /** @type {any} */ ((await page(TEMPLATES)).querySelector("#part"));
});

/** @param {Record<string, number>} rows by arm @param {any[]} [events] */
function context(rows, events = []) {
  const anchors = Object.fromEntries(Object.entries(rows).map(([arm, row]) => [arm, anchorAt(row, TODAY, [1, 1, 1])]));
  const days = armDays(BUNDLE, anchors, events, TODAY);
  return /** @type {any} */ ({ bundle: BUNDLE, days, awaitsReport: false, course: { to: "training" } });
}

/** The drawn lines: the arm where it is named, then when, what, and the class of the element. @param {any} context */
function drawn(context) {
  draw(part, context, /** @type {any} */ ({ words }));
  return [...part.querySelectorAll("section")].map((section) => {
    const arm = /** @type {HTMLElement} */ (section.querySelector("[data-slot=arm]"));
    const lines = [...section.querySelectorAll("li")].map((line) => {
      const next = /** @type {HTMLElement} */ (line.querySelector("strong"));
      return `${line.querySelector("span")?.textContent} -> ${next.textContent} [${next.className}]`;
    });
    return [arm.hasAttribute("hidden") ? "" : arm.textContent, ...lines];
  });
}

test("each way that tomorrow can go is a line: when, and what then, the stop in the stop's own look", () => {
  assert.deepEqual(drawn(context({ right: SECOND })), [
    [
      "",
      "Branch.best_both(during span.up_to(high 3), morning span.up_to(high 2)) -> change.reps(times 12 dose.reps, load 0.5 kg, range change.range.full, sessions 1 dose.sessions, now 10) [ease]",
      "Branch.during_no_report(during span.pair(low 4, high 5)) -> change.same [ease]",
      "Branch.either(during span.pair(low 6, high 7), morning span.between(low 3, high 7)) -> change.rest [ease]",
      "Branch.stop(rating span.from(low 8)) -> change.held [do-ink]",
    ],
  ]);
});

test("once the session is done only the morning is asked", () => {
  const done = event(1, "session_finished", TODAY, sessionBody({ right: { worst: 5 } }));
  assert.deepEqual(drawn(context({ right: SECOND }, [done])), [
    [
      "",
      "Branch.morning(morning span.up_to(high 2)) -> change.same [ease]",
      "Branch.morning(morning span.between(low 3, high 7)) -> change.rest [ease]",
      "Branch.stop(rating span.from(low 8)) -> change.held [do-ink]",
    ],
  ]);
});

test("two arms with the same lines are drawn once; different arms are drawn by name", () => {
  assert.deepEqual(
    drawn(context({ right: SECOND, left: SECOND })).map(([arm]) => arm),
    [""],
  );
  assert.deepEqual(
    drawn(context({ right: FIRST, left: SECOND })).map(([arm]) => arm),
    ["arm.right", "arm.left"],
  );
});

test("an arm that is stopped is left out, and where both are, nothing is told", () => {
  assert.deepEqual(
    drawn(context({ right: HELD, left: SECOND })).map(([arm]) => arm),
    [""],
  );
  assert.equal(seen(context({ right: HELD, left: HELD })), null);
  assert.notEqual(seen(context({ right: HELD, left: SECOND })), null);
});

test("nothing is told while the morning's report is awaited, or before there is a routine", () => {
  assert.equal(seen({ ...context({ right: SECOND }), awaitsReport: true }), null);
  assert.equal(seen({ ...context({ right: SECOND }), bundle: null }), null);
});

test("in maintenance it is about the next session, on whatever day that is", () => {
  const maintenance = { ...context({ right: SECOND }), course: { to: "maintenance" } };
  assert.equal(drawn(maintenance).length, 1);
  assert.equal(part.querySelector("p")?.textContent, "branch.next_time");
  drawn(context({ right: SECOND }));
  assert.equal(part.querySelector("p"), null);
});
