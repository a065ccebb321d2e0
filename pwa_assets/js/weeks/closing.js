/**
 * The closing summary: one page about the whole course, to keep and to print. It is made on the phone, without a network.
 *
 * @typedef {import("../pure/weeks/past_days.js").PastDay} PastDay
 * @typedef {import("../edges/screen/words.js").Words} Words
 * @typedef {import("../pure/weeks/closing.js").ArmClosing} ArmClosing
 * @typedef {{made: string, bundle: import("../wire.js").Bundle, names: import("./names.js").Names, words: Words, today: string,
 *   practitioner: import("../wire.js").PractitionerShown|undefined}} About
 */

import { drawWho } from "../letters/who.js";
import { keptPage } from "../parts/kept_page.js";
import { fillSlots, find, onAct, piece } from "../parts/pieces.js";
import { addDays } from "../pure/calendar/local_day.js";
import { courseOn } from "../pure/dose/set_course.js";
import { ratingsIn } from "../pure/weeks/activities.js";
import { activitiesClosing, armClosing } from "../pure/weeks/closing.js";
import { readCourse } from "./course.js";
import { namesOf } from "./names.js";

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @returns {() => void} stop
 */
export function start(root, edges) {
  const over = new AbortController();
  root.replaceChildren(piece("closing", "screen"));
  root.removeAttribute("data-closing");
  const { store, words, clock, room } = edges;
  const show = async () => {
    const [bundle, practitioner] = [await store.bundle(), await store.getMeta("practitioner")];
    if (over.signal.aborted) return;
    const made = words.fill("closing.made", { when: words.instant(clock.now()) });
    const about = { made, bundle, words, today: clock.today(), practitioner };
    if (!bundle) return say(root, words.say("routine.none"));
    const tell = (/** @type {import("./course.js").Course} */ course) => {
      if (course.isWhole) draw(root, course, { ...about, names: namesOf(words, bundle) });
    };
    await readCourse(edges, bundle, tell, over.signal);
  };
  onAct(root, "print", () => room.print(), over.signal);
  const save = () => {
    const text = keptPage(find(root, "[data-kept]").cloneNode(true), words.say("title.closing"));
    room.saveFile(words.fill("closing.file", { day: clock.today() }), text, "text/html");
    fillSlots(root, { file: words.say("data.saved") });
  };
  onAct(root, "save_page", save, over.signal);
  void show();
  const stop = store.onChange(() => void show());
  return () => {
    over.abort();
    stop();
  };
}

/** @param {HTMLElement} root @param {string} text in place of the summary */
function say(root, text) {
  fillSlots(root, { none: text });
  root.setAttribute("data-closing", "none");
}

/** @param {HTMLElement} root @param {import("./course.js").Course} course @param {About} about */
function draw(root, { days, lasting }, about) {
  const { bundle, words, today, practitioner } = about;
  const arms = bundle.arms.map((arm) => armClosing(days, arm));
  if (arms.every((arm) => arm.days === 0 && arm.mornings === null)) return say(root, words.say("weeks.none"));
  const set = courseOn(lasting, today);
  const [from, last] = [days[0].on, days[days.length - 1].on];
  fillSlots(root, {
    none: null,
    span: words.fill("weeks.span", { from: words.date(from), to: words.date(last) }),
    count: words.plural("closing.days", days.length),
    made: about.made,
    ...goingOn(set, words),
  });
  find(root, "[data-arms]").replaceChildren(...arms.map((arm) => drawArm(arm, about)));
  const rows = activitiesClosing(ratingsIn(lasting), last).map((each) => activityRow(each, words));
  find(root, "[data-activities]").hidden = rows.length === 0;
  find(root, "[data-activities] tbody").replaceChildren(...rows);
  find(root, "[data-who]").replaceChildren(...drawWho(words, practitioner, { mayWrite: false }));
  find(root, "[data-kept]").hidden = false;
  find(root, "[data-keep]").hidden = false;
  root.setAttribute("data-closing", "whole");
}

/**
 * What the practitioner has set last: what to go on with, and when to be seen again.
 * @param {import("../pure/dose/set_course.js").SetCourse} set
 * @param {Words} words
 */
function goingOn({ to, daysAWeek, since, reason, by, seenAgainOn }, words) {
  const gaps = { asked: daysAWeek, by };
  return {
    go_on: since === null ? words.say("closing.so_far") : words.fill(`closing.${to}`, gaps),
    by: since === null ? null : words.fill("finishing.by", { by, since: words.day(since) }),
    reason: reason || null,
    again: seenAgainOn ? words.fill("finishing.again", { day: words.day(seenAgainOn) }) : null,
  };
}

/** @param {ArmClosing} arm @param {About} about */
function drawArm(arm, { names, words }) {
  const { mornings, doses, holds } = arm;
  const node = fillSlots(piece("closing_arm"), {
    arm: words.say(`arm.${arm.arm}`),
    sessions: words.plural("closing.sessions", arm.sessions, { days: words.plural("closing.on_days", arm.days) }),
    few: mornings ? null : words.say("closing.few"),
  });
  const rows = [...(mornings ? [morningsRow(mornings, words)] : []), ...(doses ? doseRows(doses, names, words) : [])];
  find(node, "table").hidden = rows.length === 0;
  find(node, "tbody").append(...rows);
  const said = holds.map(({ from, to }) =>
    to === null
      ? words.fill("closing.held", { from: words.date(from) })
      : words.fill("closing.hold", { from: words.date(from), to: words.date(addDays(to, 1)) }),
  );
  find(node, "ul").append(...said.map((text) => fillSlots(piece("closing_line"), { text })));
  find(node, "ul").hidden = said.length === 0;
  return node;
}

/** @param {NonNullable<ArmClosing["mornings"]>} mornings @param {Words} words */
const morningsRow = (mornings, words) =>
  rowOf(
    words.say("closing.mornings"),
    mornings.map(({ middle, from, to }) => ({
      value: words.fill("closing.of_ten", { rating: middle }),
      when: words.fill("weeks.span", { from: words.date(from), to: words.date(to) }),
    })),
  );

/** @param {NonNullable<ArmClosing["doses"]>} doses @param {import("./names.js").Names} names @param {Words} words */
function doseRows(doses, names, words) {
  const when = doses.map(({ on }) => words.date(on));
  /** @param {string} key @param {(day: import("../pure/weeks/closing.js").Asked) => string} said */
  const row = (key, said) =>
    rowOf(
      words.say(key),
      doses.map(said).map((value, at) => ({ value, when: when[at] })),
    );
  return [
    row("weeks.head.reps", ({ dose }) => words.number(dose.sets[0].reps)),
    row("weeks.head.weight", ({ dose }) => names.load(dose.sets[0].load_kg)),
    row("weeks.head.range", ({ dose }) => names.range(dose.sets[0].range)),
    row("closing.work", ({ workJ }) => (workJ === null ? words.say("weeks.unknown") : names.joules(workJ))),
  ];
}

/** @param {ReturnType<typeof activitiesClosing>[number]} rated @param {Words} words */
const activityRow = ({ activity, first, last }, words) =>
  rowOf(
    activity,
    [first, last].map((each) => ({
      value: each ? words.fill("closing.of_ten", { rating: each.rating }) : words.say("weeks.unknown"),
      when: each ? words.date(each.on) : "",
    })),
  );

/** @param {string} name @param {{value: string, when: string}[]} cells at first and at last */
function rowOf(name, [first, last]) {
  const row = fillSlots(piece("closing_row"), {
    name,
    first: first.value,
    first_when: first.when,
    last: last.value,
    last_when: last.when,
  });
  return find(row, "tr");
}
