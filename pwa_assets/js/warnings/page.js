/**
 * The page of the warning signs, which can be read at any time. Reporting most of them stops the exercises until the practitioner
 * starts them again. A sign about the whole body stops both arms, so the page does not ask for the arm.
 *
 * @typedef {import("./report.js").Sign & {text: string}} Sign
 */

import { showWho } from "../letters/who.js";
import { fillSlots, find, onAct, piece, showFault } from "../parts/pieces.js";
import { bodyOf, drawSends, heldText } from "./report.js";

const EMERGENCY = "emergency";
/** The most urgent first. */
const LEVELS = [EMERGENCY, "same_day", "soon", "ask_first"];
/** An emergency for which no sign was ticked: nobody has to tick a sign before the exercises stop. @type {Sign} */
const UNNAMED = { id: "unnamed_emergency", level: EMERGENCY, is_whole: true, holds: true, text: "" };

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
  const form = find(root, "form");
  if (!bundle) return form.replaceWith(piece("warnings_unlinked"));
  find(form, "[data-levels]").append(...LEVELS.map((level) => levelOf(bundle, level)));
  const redraw = () => drawSends(form, bundle.arms, ticked(form, bundle));
  redraw();
  find(root, "[data-caution]").hidden = false;
  fillSlots(root, { caution: bundle.caution });
  form.addEventListener("change", redraw, { signal });
  onAct(form, "stop", () => void report(form, bundle, edges, EMERGENCY), signal);
  const submit = (/** @type {SubmitEvent} */ event) => {
    event.preventDefault();
    void report(form, bundle, edges, event.submitter?.getAttribute("value") ?? "");
  };
  form.addEventListener("submit", submit, { signal });
}

/**
 * @param {import("../wire.js").Bundle} bundle
 * @param {string} level
 */
function levelOf(bundle, level) {
  const [node, section] = headed("warning_level", bundle, level);
  for (const sign of bundle.warnings.filter((/** @type {Sign} */ each) => each.level === level)) {
    const row = fillSlots(piece("warning_sign"), { text: sign.text });
    find(row, "input").setAttribute("value", sign.id);
    find(node, ".signs").append(row);
  }
  if (level === EMERGENCY) section.append(piece("warning_stop"));
  return node;
}

/**
 * @param {string} name of a piece
 * @param {import("../wire.js").Bundle} bundle
 * @param {string} level
 * @returns {[DocumentFragment, HTMLElement]} the piece and its section; the heading says what to do at this level
 */
function headed(name, bundle, level) {
  const node = fillSlots(piece(name), { act: bundle.to_do[level], note: bundle.to_know[level] ?? null });
  const section = find(node, "section");
  section.setAttribute("data-level", level);
  return [node, section];
}

/**
 * @param {HTMLElement} form
 * @param {import("../wire.js").Bundle} bundle
 * @param {import("../main.js").Edges} edges
 * @param {string} how "emergency", or the value of the pressed button: an arm, "both" or ""
 */
async function report(form, bundle, edges, how) {
  const { store, clock, words, announce } = edges;
  const named = ticked(form, bundle);
  const isUnnamed = how === EMERGENCY && !named.some(({ level }) => level === EMERGENCY);
  const signs = isUnnamed ? [UNNAMED, ...named] : named;
  if (signs.length === 0) return showFault(form, words.say("warnings.missing_sign"), find(form, "[name=sign]"));
  const [on, bodies] = [clock.today(), signs.map((sign) => bodyOf(sign, how, bundle.arms))];
  try {
    await store.addEvents(...bodies.map((body) => ({ kind: /** @type {const} */ ("warning_raised"), on, body })));
  } catch {
    return showFault(form, words.say("day.not_saved"), null);
  }
  announce(words.say("day.saved"));
  showReported(form, bundle, signs, heldText(bundle.arms, bodies, words), edges);
}

/**
 * @param {HTMLElement} form
 * @param {import("../wire.js").Bundle} bundle
 * @param {Sign[]} signs
 * @param {string} held
 * @param {import("../main.js").Edges} edges
 */
function showReported(form, bundle, signs, held, edges) {
  const worst = LEVELS.find((level) => signs.some((sign) => sign.level === level)) ?? EMERGENCY;
  const [node, section] = headed("warning_told", bundle, worst);
  const heading = find(fillSlots(section, { held }), "h2");
  void showWho(section, edges, { isEmergency: worst === EMERGENCY });
  form.replaceWith(node);
  find(heading.closest("main") ?? document, ".date-about").hidden = true;
  heading.focus();
  scrollTo(0, 0);
}

/**
 * @param {HTMLElement} form
 * @param {import("../wire.js").Bundle} bundle
 * @returns {Sign[]} those that are ticked
 */
function ticked(form, bundle) {
  const inputs = /** @type {NodeListOf<HTMLInputElement>} */ (form.querySelectorAll("[name=sign]:checked"));
  const ids = [...inputs].map(({ value }) => value);
  return bundle.warnings.filter((/** @type {Sign} */ { id }) => ids.includes(id));
}
