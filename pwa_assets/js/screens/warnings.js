/**
 * Warning signs: read at any time; a reported one stops the exercises until the practitioner starts them again.
 */

import { fillSlots, one, piece, showFault } from "../parts/pieces.js";

const LEVELS = ["emergency", "same_day", "soon"];

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @returns {() => void} stop
 */
export function start(root, edges) {
  const over = new AbortController();
  root.replaceChildren(piece("warnings", "screen"));
  void draw(root, edges, over.signal);
  return () => over.abort();
}

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @param {AbortSignal} signal
 */
async function draw(root, edges, signal) {
  const bundle = await edges.store.bundle();
  if (signal.aborted) return undefined;
  const form = one(root, "form");
  if (!bundle) return form.replaceWith(piece("warnings_unlinked"));
  const levels = LEVELS.map((level) => levelOf(bundle, level, edges.words));
  one(form, "[data-levels]").append(...levels);
  drawArms(form, bundle.arms, edges.words);
  one(root, "[data-caution]").hidden = false;
  fillSlots(root, { caution: bundle.caution });
  const submit = (/** @type {Event} */ event) => {
    event.preventDefault();
    void report(root, bundle, edges);
  };
  form.addEventListener("submit", submit, { signal });
}

/**
 * @param {any} bundle
 * @param {string} level
 * @param {import("../edges/words.js").Words} words
 */
function levelOf(bundle, level, words) {
  const node = fillSlots(piece("warning_level"), {
    heading: words.say(`level.${level}`),
    act: bundle.to_do?.[level] ?? null,
  });
  one(node, "section").setAttribute("data-level", level);
  for (const sign of bundle.warnings.filter((/** @type {any} */ each) => each.level === level)) {
    const row = fillSlots(piece("warning_sign"), { text: sign.text });
    one(row, "input").setAttribute("value", sign.id);
    one(node, ".signs").append(row);
  }
  return node;
}

/**
 * @param {HTMLElement} form
 * @param {string[]} arms
 * @param {import("../edges/words.js").Words} words
 */
function drawArms(form, arms, words) {
  one(form, "[data-which]").hidden = arms.length === 1;
  for (const arm of arms) {
    const row = fillSlots(piece("warning_arm"), { text: words.say(`arm.${arm}`) });
    const input = /** @type {HTMLInputElement} */ (one(row, "input"));
    input.value = arm;
    input.checked = arms.length === 1;
    one(form, "[data-arms]").append(row);
  }
}

/**
 * @param {HTMLElement} root
 * @param {any} bundle
 * @param {import("../main.js").Edges} edges
 */
async function report(root, bundle, { store, clock, words, announce }) {
  const form = one(root, "form");
  const [signs, arms] = ["sign", "arm"].map((name) => ticked(form, name));
  if (signs.length === 0) return showFault(form, words.say("warnings.missing_sign"), one(form, "[name=sign]"));
  if (arms.length === 0) return showFault(form, words.say("warnings.missing_arm"), one(form, "[name=arm]"));
  try {
    const on = clock.today();
    await store.addEvents(...signs.map((sign) => ({ kind: "warning_raised", on, body: { sign, arms } })));
  } catch {
    return showFault(form, words.say("day.not_saved"), null);
  }
  announce(words.say("day.saved"));
  showTold(form, bundle, signs);
}

/**
 * @param {HTMLElement} form
 * @param {any} bundle
 * @param {string[]} signs
 */
function showTold(form, bundle, signs) {
  const node = piece("warning_told");
  const heading = one(node, "h2");
  const levels = LEVELS.filter((level) =>
    bundle.warnings.some((/** @type {any} */ each) => each.level === level && signs.includes(each.id)),
  );
  for (const level of levels.slice(0, 1)) {
    one(node, ".told-acts").append(fillSlots(piece("sentence"), { text: bundle.to_do?.[level] ?? "" }));
  }
  form.replaceWith(node);
  one(heading.closest("main") ?? document, ".date-about").hidden = true;
  heading.focus();
  scrollTo(0, 0);
}

/**
 * @param {HTMLElement} form
 * @param {string} name
 * @returns {string[]} values
 */
function ticked(form, name) {
  const inputs = /** @type {NodeListOf<HTMLInputElement>} */ (form.querySelectorAll(`[name=${name}]`));
  return [...inputs].filter((input) => input.checked).map((input) => input.value);
}
