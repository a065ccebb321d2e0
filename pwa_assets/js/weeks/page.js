/**
 * The weeks so far: what they amount to in a sentence, plots with their tables, days worth knowing, and where the ladder goes.
 *
 * @typedef {import("../pure/weeks/past_days.js").PastDay} PastDay
 * @typedef {{bundle: import("../wire.js").Bundle, names: import("./names.js").Names, words: import("../edges/screen/words.js").Words,
 *   today: string, bands: import("../pure/weeks/bands.js").Band[], lasting: import("../pure/dose/daybook.js").Event[]}} About lasting: what counts for good
 */

import { afterPaint, fillSlots, find, onAct, piece } from "../parts/pieces.js";
import { courseOn } from "../pure/dose/set_course.js";
import { bandsOf, lowOf } from "../pure/weeks/bands.js";
import { milestones } from "../pure/weeks/milestones.js";
import { stretchesOf } from "../pure/weeks/spans.js";
import { readCourse } from "./course.js";
import { drawActivities, drawArm } from "./figures.js";
import { namesOf } from "./names.js";
import { milestoneLines, stepsAhead, thenAndNowTexts } from "./said.js";

/** In one drawing; own choice: columns of a few weeks can still be told apart on a small screen. */
const DAYS_SHOWN = 28;
/** The others are folded away. */
const WORTH_SHOWN = 10;
/** The letters of a plot, of those of the page. */
const SMALL = 0.9375;
const USUAL_EM = 16;
const NARROW = 328;

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @returns {() => void} stop
 */
export function start(root, edges) {
  const over = new AbortController();
  root.replaceChildren(piece("weeks", "screen"));
  const { store, words, clock } = edges;
  let isShown = false;
  const show = async () => {
    const [bundle, { days: today }] = [await store.bundle(), await store.snapshot()];
    if (over.signal.aborted || isShown) return;
    if (!bundle) return say(root, words.say("routine.none"));
    /** @type {About} */
    const about = {
      bundle,
      names: namesOf(words, bundle),
      words,
      today: clock.today(),
      bands: bandsOf(bundle),
      lasting: [],
    };
    isShown = true;
    fillSlots(root, { none: null });
    drawAhead(root, today, about);
    drawSet(root, await store.lasting(), about);
    showCourse(root, edges, about, over.signal);
  };
  void show();
  const stop = store.onChange(() => void show());
  return () => {
    over.abort();
    stop();
  };
}

/**
 * What the practitioner has set: maintenance, or the end, after which nothing goes on from here.
 * @param {HTMLElement} root @param {import("../pure/dose/daybook.js").Event[]} lasting @param {About} about
 */
function drawSet(root, lasting, { words, today }) {
  const { to, since, daysAWeek } = courseOn(lasting, today);
  if (to === "training" || since === null) return;
  const gaps = { asked: daysAWeek, since: words.day(since) };
  fillSlots(root, { course: words.fill(`weeks.${to}`, gaps) });
  find(root, "[data-course]").hidden = false;
  if (to === "ended") find(root, "[data-ahead]").hidden = true;
}

/** @param {HTMLElement} root @param {string} text in place of the plots */
function say(root, text) {
  fillSlots(root, { none: text });
  root.setAttribute("data-weeks", "none");
}

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @param {About} about
 * @param {AbortSignal} signal
 */
function showCourse(root, edges, about, signal) {
  /** @type {PastDay[]} */
  let days = [];
  let back = 0;
  const redraw = () => drawWindow(root, days, back, about, signal);
  /** @param {number} to @param {string} act */
  const step = (to, act) => {
    back = Math.min(Math.max(0, to), furthest(days));
    redraw();
    if (find(root, `[data-act="${act}"]`).hasAttribute("disabled"))
      find(root, "[data-window] [data-slot=span]").focus();
  };
  onAct(root, "earlier", () => step(back + 1, "earlier"), signal);
  onAct(root, "later", () => step(back - 1, "later"), signal);
  onAct(root, "first", () => step(furthest(days), "first"), signal);
  // A browser's bar that comes and goes changes the height alone, and every plot may stay.
  let width = sheetOf(root).width;
  const fit = () => {
    const isSame = sheetOf(root).width === width;
    width = sheetOf(root).width;
    if (!isSame && root.hasAttribute("data-weeks") && days.some(hasNews)) redraw();
  };
  addEventListener("resize", fit, { signal });
  const tell = (/** @type {import("./course.js").Course} */ course) => {
    const isShown = root.hasAttribute("data-weeks");
    days = course.days;
    about.lasting = course.lasting;
    if (!course.isWhole && days.length < DAYS_SHOWN) return;
    if (course.isWhole && !days.some(hasNews)) return say(root, about.words.say("weeks.none"));
    if (!isShown) redraw();
    markEnds(root, days, back);
    if (course.isWhole) afterPaint(() => drawSaid(root, days, about));
  };
  void readCourse(edges, about.bundle, tell, signal);
}

/** @param {PastDay} day */
const hasNews = ({ arms }) =>
  Object.values(arms).some(({ morning, sessions, isSharp }) => morning !== null || sessions > 0 || isSharp);

/** @param {PastDay[]} days @returns {number} how many windows back the first days are */
const furthest = (days) => Math.max(0, Math.ceil(days.length / DAYS_SHOWN) - 1);

/** @param {HTMLElement} root @param {PastDay[]} days @param {number} back */
function markEnds(root, days, back) {
  const isOff = { earlier: back >= furthest(days), first: back >= furthest(days), later: back === 0 };
  for (const [act, off] of Object.entries(isOff)) find(root, `[data-act="${act}"]`).toggleAttribute("disabled", off);
  find(root, "[data-steps]").hidden = furthest(days) === 0;
}

/**
 * @param {HTMLElement} root
 * @param {PastDay[]} all
 * @param {number} back how many windows before the latest
 * @param {About} about
 * @param {AbortSignal} signal
 */
function drawWindow(root, all, back, about, signal) {
  const end = all.length - back * DAYS_SHOWN;
  const start = Math.max(0, end - DAYS_SHOWN);
  const days = all.slice(start, end);
  const lows = { flared: lowOf(about.bands, "flared"), sharp: lowOf(about.bands, "sharp") };
  const { words, bundle } = about;
  const [from, to] = [days[0].on, days[days.length - 1].on].map(words.date);
  fillSlots(find(root, "[data-window]"), { span: words.fill("weeks.span", { from, to }) });
  markEnds(root, all, back);
  const open = [...root.querySelectorAll("[data-arms] details")].map((each) => each.hasAttribute("open"));
  const arms = bundle.arms.map((arm) =>
    drawArm(days, arm, about, sheetOf(root), signal, stretchesOf(all, arm, lows).slice(start, end)),
  );
  find(root, "[data-arms]").replaceChildren(...arms, ...drawActivities(days, about, sheetOf(root), signal));
  for (const [at, each] of root.querySelectorAll("[data-arms] details").entries())
    each.toggleAttribute("open", open[at] ?? false);
  find(root, "[data-window]").hidden = false;
  find(root, "[data-days]").hidden = all.length < 2;
  if (root.dataset.weeks !== "whole") root.setAttribute("data-weeks", "drawn");
}

/** @param {HTMLElement} root @returns {import("../pure/weeks/shapes.js").Sheet} */
function sheetOf(root) {
  const letters = Number.parseFloat(getComputedStyle(document.documentElement).fontSize) || USUAL_EM;
  return { width: find(root, ".date").clientWidth || NARROW, em: letters * SMALL };
}

/** @param {HTMLElement} root @param {PastDay[]} days the whole course @param {About} about */
function drawSaid(root, days, { bundle, names, words }) {
  const said = thenAndNowTexts(days, bundle, words).map((text) => fillSlots(piece("sentence"), { text }));
  fillSlots(root, { about: words.plural("weeks.about", days.length) });
  find(root, "[data-said]").replaceChildren(...said);
  const found = milestones(days, bundle.arms, bandsOf(bundle));
  find(root, "[data-worth]").hidden = found.length === 0;
  find(root, "[data-worth] ol").replaceChildren(...milestoneLines(found.slice(0, WORTH_SHOWN), bundle, names, words));
  const folded = find(root, "[data-worth] details");
  folded.hidden = found.length <= WORTH_SHOWN;
  const fill = () =>
    find(folded, "ol").replaceChildren(...milestoneLines(found.slice(WORTH_SHOWN), bundle, names, words));
  folded.addEventListener("toggle", fill, { once: true });
  root.setAttribute("data-weeks", "whole");
}

/** @param {HTMLElement} root @param {import("../pure/dose/today.js").ArmDay[]} today @param {About} about */
function drawAhead(root, today, { bundle, words }) {
  const arms = today.map((day) => {
    const { note, steps } = stepsAhead(day, bundle, words);
    const node = fillSlots(piece("weeks_ahead"), { arm: today.length > 1 ? words.say(`arm.${day.arm}`) : null, note });
    find(node, "ol").append(...steps);
    find(node, "ol").hidden = steps.length === 0;
    return node;
  });
  find(root, "[data-ahead]").hidden = arms.length === 0;
  find(root, "[data-ahead] [data-body]").replaceChildren(...arms);
}
