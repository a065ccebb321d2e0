/**
 * The screening before the first session: the warning signs, one level a page, the most urgent first. One tap says that none of a
 * page is true. A sign that is true ends the questions there: the page says what to do. Until it is left, that can be taken back.
 *
 * @typedef {import("../warnings/report.js").Sign} Sign
 * @typedef {import("../edges/storage/store.js").Draft} Draft
 */

import { showWho } from "../letters/who.js";
import { fillSlots, find, onAct, piece, showFault } from "../parts/pieces.js";
import { isAnyStopped, LEVELS } from "../pure/arriving/start.js";
import { BOTH, bodyOf, drawSends, heldText } from "../warnings/report.js";

const LAST = LEVELS[LEVELS.length - 1];

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @returns {() => void} stop
 */
export function start(root, edges) {
  const over = new AbortController();
  void open(root, edges, over.signal);
  return () => over.abort();
}

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @param {AbortSignal} signal
 */
async function open(root, edges, signal) {
  const snapshot = await edges.store.snapshot();
  if (signal.aborted) return;
  const { bundle, start: begun } = snapshot;
  if (begun.waitsFor !== "screening" || isAnyStopped(snapshot)) return edges.go("#day");
  ask(root, edges, bundle?.arms ?? BOTH, begun.next, signal);
}

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @param {string[]} arms of the routine
 * @param {string} first the level to begin with
 * @param {AbortSignal} signal
 */
function ask(root, edges, arms, first, signal) {
  root.replaceChildren(piece("screening", "screen"));
  const form = /** @type {HTMLFormElement} */ (find(root, "form"));
  const redraw = () => {
    const signs = ticked(form);
    find(form, "[data-none]").hidden = signs.length > 0;
    find(form, "[data-some]").hidden = signs.length === 0;
    for (const each of form.querySelectorAll("[data-holds]"))
      each.toggleAttribute("hidden", String(levelOf(form) !== LAST) !== each.getAttribute("data-holds"));
    drawSends(form, arms, signs);
  };
  const submit = (/** @type {SubmitEvent} */ event) => {
    event.preventDefault();
    const next = LEVELS[LEVELS.indexOf(levelOf(form)) + 1];
    if (ticked(form).length === 0 && next) turnTo(form, next, redraw);
    else void answer(root, edges, arms, event.submitter?.getAttribute("value") ?? "", signal);
  };
  form.addEventListener("change", redraw, { signal });
  form.addEventListener("submit", submit, { signal });
  onAct(form, "before", () => turnTo(form, LEVELS[Math.max(0, LEVELS.indexOf(levelOf(form)) - 1)], redraw), signal);
  turnTo(form, first, redraw);
}

/** @param {HTMLElement} form @param {string} level @param {() => void} redraw */
function turnTo(form, level, redraw) {
  for (const section of form.querySelectorAll("section[data-level]"))
    section.toggleAttribute("hidden", section.getAttribute("data-level") !== level);
  form.dataset.asked = level;
  find(form, "[data-before]").hidden = level === LEVELS[0];
  redraw();
  find(form, `section[data-level="${level}"] h1`).focus({ preventScroll: true });
  scrollTo(0, 0);
}

/** @param {HTMLElement} form @returns {string} the level that is asked now */
const levelOf = (form) => form.dataset.asked ?? LEVELS[0];

/** @param {HTMLElement} form @returns {Sign[]} the signs of this page that are ticked */
function ticked(form) {
  const level = levelOf(form);
  const section = find(form, `section[data-level="${level}"]`);
  const inputs = /** @type {NodeListOf<HTMLInputElement>} */ (section.querySelectorAll("[name=sign]:checked"));
  return [...inputs].map(({ value, dataset }) => ({
    id: value,
    level,
    is_whole: dataset.whole === "true",
    holds: level !== LAST,
  }));
}

/**
 * Stores the answer: how far the list was gone through, the signs that are true and, for each that holds an arm, the same entry as
 * the page of the warning signs makes of it.
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @param {string[]} arms
 * @param {string} how the value of the button that was pressed: an arm, "both" or ""
 * @param {AbortSignal} signal
 */
async function answer(root, edges, arms, how, signal) {
  const { store, clock, words, announce, go } = edges;
  const form = find(root, "form");
  const [on, signs] = [clock.today(), ticked(form)];
  const body = { asked_list: form.dataset.list ?? "", reached: levelOf(form), signs: signs.map(({ id }) => id) };
  const raised = signs.filter(({ holds }) => holds).map((sign) => bodyOf(sign, how, arms));
  /** @type {any[]} */
  const drafts = [
    { kind: "screening_answered", on, body, id: store.newId() },
    ...raised.map((each) => ({ kind: "warning_raised", on, body: each, id: store.newId() })),
  ];
  try {
    await store.addEvents(...drafts);
  } catch {
    return showFault(form, words.say("day.not_saved"), null);
  }
  if (signal.aborted) return;
  announce(words.say("day.saved"));
  if (signs.length === 0) return go("#day");
  const takeBack = () => void undo(root, edges, drafts, () => ask(root, edges, arms, body.reached, signal));
  show(root, form, edges, raised.length ? heldText(arms, raised, words) : words.say("warnings.kept"), takeBack, signal);
}

/**
 * @param {HTMLElement} root
 * @param {HTMLElement} form that was answered
 * @param {import("../main.js").Edges} edges
 * @param {string} held a sentence: the report is saved, and which arm stops
 * @param {() => void} takeBack
 * @param {AbortSignal} signal
 */
function show(root, form, edges, held, takeBack, signal) {
  const level = levelOf(form);
  const section = find(form, `section[data-level="${level}"]`);
  const named = [...section.querySelectorAll(":checked ~ span")].map(({ textContent }) => textContent ?? "");
  const node = fillSlots(piece(level === LAST ? "screening_waits" : "screening_told"), { held });
  const page = find(node, "section");
  page.dataset.level = level;
  if (level !== LAST) find(page, "h1").replaceWith(find(section, "h1"), ...section.querySelectorAll(".level-note"));
  find(page, "[data-named]").append(...named.map((text) => fillSlots(piece("screening_named"), { text })));
  onAct(node, "take_back", takeBack, signal);
  root.replaceChildren(node);
  void showWho(root, edges, { isEmergency: level === LEVELS[0] });
  find(root, "h1").focus();
  scrollTo(0, 0);
}

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @param {{id: string, on: string}[]} drafts as they were stored
 * @param {() => void} then
 */
async function undo(root, { store, words, announce }, drafts, then) {
  const fixes = drafts.map(({ id, on }) => ({
    kind: /** @type {const} */ ("entry_corrected"),
    on,
    body: { replaces: id, body: null },
  }));
  try {
    await store.addEvents(...fixes);
  } catch {
    return showFault(root, words.say("screening.not_taken_back"), null);
  }
  announce(words.say("screening.taken_back"));
  then();
}
