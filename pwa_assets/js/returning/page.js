/**
 * 'Your way back': what sport is possible today and why, how it felt, what comes next. Everything is looked up; one entry a day, which is
 * corrected when it changes.
 */

import { fillSlots, find, onAct, piece, showFault } from "../parts/pieces.js";
import { createScale } from "../parts/scale.js";
import { asksAbout, bodyOf } from "../pure/returning/outing.js";
import { standOn, wayOf } from "../pure/returning/way.js";
import { slotsOf } from "./said.js";

/**
 * @typedef {import("./said.js").Shown} Shown
 * @typedef {import("../pure/returning/outing.js").Answers} Answers
 */

const MOST_STROKES = 10_000;

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @returns {() => void} stop
 */
export function start(root, edges) {
  const over = new AbortController();
  root.replaceChildren(fillSlots(piece("returning", "screen"), { about: null }));
  void draw(root, edges, over.signal);
  return () => over.abort();
}

/** @param {import("../main.js").Edges} edges @returns {Promise<Shown|null>} null where no way back is open */
async function read({ store }) {
  const { today, bundle, anchors, events, days } = await store.snapshot();
  const way = bundle && wayOf(anchors, today);
  const standing = way && standOn(bundle, way, days, events, today);
  if (!bundle || !way || !standing) return null;
  return {
    today,
    bundle,
    days,
    way,
    standing,
    ladder: bundle.way.ladders[way.ladder],
    asking: asksAbout(events, today),
  };
}

/** @param {HTMLElement} root @param {import("../main.js").Edges} edges @param {AbortSignal} signal */
async function draw(root, edges, signal) {
  const shown = await read(edges);
  if (signal.aborted) return;
  find(root, shown ? "[data-way]" : "[data-none]").hidden = false;
  find(root, "h1").focus();
  if (!shown) return;
  fillSlots(root, slotsOf(edges.words, shown));
  find(root, "[data-steps]").append(...steps(edges.words, shown));
  drawForm(/** @type {HTMLFormElement} */ (find(root, "form")), edges, shown, signal);
}

/** @param {import("../edges/screen/words.js").Words} words @param {Shown} shown */
function steps(words, { ladder, standing }) {
  return ladder.steps.map(({ days_a_week: days, minutes, adds }, at) => {
    const here = at + 1 === standing.step ? words.say("returning.here") : null;
    return fillSlots(piece("way_step"), { count: words.fill("returning.step", { days, minutes }), adds, here });
  });
}

/**
 * @param {HTMLFormElement} form
 * @param {import("../main.js").Edges} edges
 * @param {Shown} shown
 * @param {AbortSignal} signal
 */
function drawForm(form, edges, shown, signal) {
  const { words } = edges;
  const { asking, ladder, standing, bundle } = shown;
  const minutes = /** @type {HTMLInputElement} */ (find(form, "[name=minutes]"));
  minutes.value = String(asking.noted?.body.minutes ?? ladder.steps[standing.step - 1].minutes);
  const scales = bundle.arms.map((arm) => {
    const legend = words.fill("returning.worst", { arm: words.say(`arm.${arm}`) });
    const value = asking.noted?.body.arms?.[arm]?.worst ?? null;
    return { arm, scale: createScale(words, { name: `worst_${arm}`, legend, value }) };
  });
  find(form, "[data-arms]").append(...scales.map(({ scale }) => scale.node));
  /** @type {HTMLDetailsElement} */ (find(form, "[data-told]")).open = standing.isAllowed || asking.noted !== null;
  find(form, '[data-act="plan"]').hidden = asking.noted !== null || !standing.isAllowed;
  find(form, '[data-act="take_back"]').hidden = asking.noted === null;
  const strokes = /** @type {HTMLInputElement} */ (find(form, "[name=strokes]"));
  find(form, "[data-strokes]").hidden = !ladder.steps[standing.step - 1].most_strokes;
  strokes.value = String(asking.noted?.body.strokes ?? "");
  choose(form, asking.noted?.body.amount ?? "asked");
  const answers = () => ({
    minutes: Number(minutes.value),
    amount: chosen(form),
    strokes: strokes.value.trim() === "" ? null : Number(strokes.value),
    arms: Object.fromEntries(scales.map(({ arm, scale }) => [arm, scale.read()])),
  });
  const submit = (/** @type {Event} */ event) => {
    event.preventDefault();
    const missing = scales.find(({ scale }) => scale.read() === null);
    if (missing) return showFault(form, words.say("returning.missing"), missing.scale.first);
    void save(form, edges, shown, answers());
  };
  form.addEventListener("submit", submit, { signal });
  const unrated = Object.fromEntries(bundle.arms.map((arm) => [arm, null]));
  onAct(form, "plan", () => void save(form, edges, shown, { ...answers(), arms: unrated }), signal);
  onAct(form, "take_back", () => void keep(form, edges, shown, null), signal);
}

/** @param {HTMLFormElement} form @param {string} amount */
function choose(form, amount) {
  /** @type {HTMLInputElement} */ (find(form, `[name=amount][value=${amount}]`)).checked = true;
}

/** @param {HTMLFormElement} form @returns {Answers["amount"]} */
const chosen = (form) =>
  /** @type {any} */ (/** @type {HTMLInputElement} */ (find(form, "[name=amount]:checked")).value);

/**
 * @param {HTMLFormElement} form
 * @param {import("../main.js").Edges} edges
 * @param {Shown} shown
 * @param {Answers} answers
 */
function save(form, edges, shown, answers) {
  const { minutes, strokes } = answers;
  if (!Number.isInteger(minutes) || minutes < 1 || minutes > 1440)
    return showFault(form, edges.words.say("returning.minutes"), find(form, "[name=minutes]"));
  if (strokes !== null && !(Number.isInteger(strokes) && strokes >= 0 && strokes <= MOST_STROKES))
    return showFault(form, edges.words.say("returning.strokes"), find(form, "[name=strokes]"));
  return keep(form, edges, shown, bodyOf(shown.asking.noted, shown, answers));
}

/**
 * @param {HTMLFormElement} form
 * @param {import("../main.js").Edges} edges
 * @param {Shown} shown
 * @param {import("../wire.js").ExposureBody|null} body null takes it back
 */
async function keep(form, { store, words, announce, go }, { asking, today }, body) {
  const { noted, on } = asking;
  const fix = { kind: /** @type {const} */ ("entry_corrected"), on: today, body: { replaces: noted?.id ?? "", body } };
  const draft = noted || !body ? fix : { kind: /** @type {const} */ ("exposure_noted"), on, body };
  const isKept = await store.addEvents(draft).then(
    () => true,
    () => false,
  );
  if (!isKept) return showFault(form, words.say("day.not_saved"), null);
  announce(words.say("day.saved"));
  go("#day");
}
