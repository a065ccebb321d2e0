/**
 * The intake on the phone: five pages about the arm. Each change is kept on the phone; the answers are sent as one entry at the end.
 */

import { fillSlots, find, onAct, piece, showFault } from "../parts/pieces.js";
import { createScale } from "../parts/scale.js";
import { bodyOf, faultIn } from "../pure/arriving/intake.js";

const STEPS = ["where", "mornings", "activities", "weights", "rest"];
const LAST = STEPS[STEPS.length - 1];
const DRAFT = "intakeDraft";

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
  const { store, words, go } = edges;
  const [{ start: begun }, draft] = await Promise.all([store.snapshot(), store.getMeta(DRAFT)]);
  if (signal.aborted) return;
  if (begun.waitsFor !== "intake") return go("#day");
  root.replaceChildren(piece("intake", "screen"));
  const form = /** @type {HTMLFormElement} */ (find(root, "form"));
  const { node } = createScale(words, { name: "usual", legend: words.say("intake.usual") });
  find(form, "[data-usual]").append(node);
  fill(form, draft?.fields ?? []);
  const keep = () =>
    void store.setMeta(DRAFT, { step: form.dataset.step, fields: fieldsOf(form) }).catch(() => undefined);
  const redraw = () => draw(form);
  const change = () => {
    keep();
    redraw();
  };
  form.addEventListener("change", change, { signal });
  const submit = (/** @type {SubmitEvent} */ event) => {
    event.preventDefault();
    void goOn(form, edges, keep);
  };
  form.addEventListener("submit", submit, { signal });
  const turnBack = () => turnTo(form, STEPS[Math.max(0, STEPS.indexOf(stepOf(form)) - 1)], keep);
  onAct(form, "before", turnBack, signal);
  onAct(form, "as_list", () => find(form, "[data-places]").toggleAttribute("data-list"), signal);
  redraw();
  turnTo(form, STEPS.includes(draft?.step) ? draft.step : STEPS[0], keep);
}

/** @param {HTMLElement} form @returns {string} the page that is shown */
const stepOf = (form) => form.dataset.step ?? STEPS[0];

/** @param {HTMLFormElement} form @returns {import("../pure/arriving/intake.js").Fields} */
const fieldsOf = (form) => [...new FormData(form)].map(([name, value]) => [name, String(value)]);

/** @param {HTMLFormElement} form @param {import("../pure/arriving/intake.js").Fields} fields */
function fill(form, fields) {
  for (const [name, value] of fields) {
    for (const input of /** @type {NodeListOf<HTMLInputElement>} */ (form.querySelectorAll(`[name="${name}"]`))) {
      if (input.type !== "checkbox" && input.type !== "radio") input.value = value;
      else if (input.value === value) input.checked = true;
    }
  }
}

/** @param {HTMLFormElement} form */
function draw(form) {
  const named = [...form.querySelectorAll("[name=place]:checked ~ span")].map(({ textContent }) => textContent ?? "");
  fillSlots(form, { named: named.join(" · ") || null });
  const high = find(form, "[data-high]");
  high.hidden = Number(new FormData(form).get("usual") ?? 0) <= Number(high.dataset.high);
}

/** @param {HTMLFormElement} form @param {string} step @param {() => void} keep */
function turnTo(form, step, keep) {
  for (const section of form.querySelectorAll("section[data-step]"))
    section.toggleAttribute("hidden", section.getAttribute("data-step") !== step);
  form.dataset.step = step;
  find(form, "[data-before]").hidden = step === STEPS[0];
  find(form, "[data-on]").hidden = step === LAST;
  find(form, "[data-send]").hidden = step !== LAST;
  find(form, "[data-fault]").hidden = true;
  keep();
  find(form, `section[data-step="${step}"] h1`).focus({ preventScroll: true });
  scrollTo(0, 0);
}

/**
 * @param {HTMLFormElement} form
 * @param {import("../main.js").Edges} edges
 * @param {() => void} keep
 */
async function goOn(form, { store, clock, words, announce, go }, keep) {
  const fields = fieldsOf(form);
  const wrong = faultIn(fields, stepOf(form));
  if (wrong) {
    const { fault, field, text = "" } = wrong;
    const said = text ? words.fill(fault, { text }) : words.say(fault);
    return showFault(form, said, form.querySelector(`[name="${field}"]`));
  }
  if (stepOf(form) !== LAST) return turnTo(form, STEPS[STEPS.indexOf(stepOf(form)) + 1], keep);
  try {
    await store.addEvents({ kind: "intake_told", on: clock.today(), body: bodyOf(fields) });
  } catch {
    return showFault(form, words.say("day.not_saved"), null);
  }
  await store.setMeta(DRAFT, null).catch(() => undefined);
  announce(words.say("day.saved"));
  go("#day");
}
