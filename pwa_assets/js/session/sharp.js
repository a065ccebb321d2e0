/**
 * The page after a stop for sharp pain. The stop is stored in the log before the screen says so, and before the three questions:
 * where, what it was like, whether a warning sign is true now. The client may leave them unanswered and come back to them.
 */

import { showWho } from "../letters/who.js";
import { fillSlots, find, onAct, piece, showFault } from "../parts/pieces.js";
import { armsOf, finishedBody, plannedArms } from "../pure/session/run.js";
import { offerTakingBack } from "./sharp_mistake.js";

/** @typedef {import("../pure/session/run.js").Run} Run */

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @param {Run|null} [stopped] the run that was stopped just now; it may not be stored yet
 * @returns {() => void} stop
 */
export function start(root, edges, stopped = null) {
  const over = new AbortController();
  if (stopped) show(root, edges, stopped, over.signal, true);
  else void takeUp(root, edges, over.signal);
  return () => over.abort();
}

/**
 * Shows the questions of a stored stop again. They stay until they are answered or the page is left by its own button.
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @param {AbortSignal} signal
 */
async function takeUp(root, edges, signal) {
  const run = await edges.store.takeRun();
  if (signal.aborted) return;
  if (run?.ended !== "sharp") return edges.go("#day");
  show(root, edges, run, signal);
}

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @param {Run} run
 * @param {AbortSignal} signal
 * @param {boolean} [isNew] whether the stop was pressed just now, so that it can still be undone
 */
function show(root, edges, run, signal, isNew = false) {
  const { store, words, go } = edges;
  root.replaceChildren(fillSlots(piece("sharp", "screen"), { caution: null, saved: words.say("sharp.saving") }));
  void store.bundle().then((bundle) => signal.aborted || fillSlots(root, { caution: bundle?.caution ?? null }));
  void showWho(root, edges);
  find(root, "h1").focus();
  const save = () => void keep(root, edges, run, signal, isNew);
  onAct(root, "again", save, signal);
  onAct(root, "leave", () => void store.clearRun().finally(() => go("#day")), signal);
  save();
}

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @param {Run} run
 * @param {AbortSignal} signal
 * @param {boolean} isNew
 */
async function keep(root, edges, run, signal, isNew) {
  const { store, words, announce } = edges;
  const stopped = await store.stopRun(run).catch(() => null);
  if (signal.aborted) return;
  const text = stopped ? savedText(words, run.sharpArm) : words.say("sharp.not_saved");
  fillSlots(root, { saved: text });
  find(root, '[data-act="again"]').hidden = Boolean(stopped);
  find(root, '[data-act="leave"]').hidden = !stopped;
  announce(text);
  if (stopped) askSharp(root, edges, stopped, signal);
  if (stopped && isNew) offerTakingBack(root, edges, stopped, signal);
}

/** @param {import("../edges/screen/words.js").Words} words @param {string} arm "both" where both arms worked at once */
function savedText(words, arm) {
  return arm === "both" ? words.say("sharp.saved_both") : words.fill("sharp.saved", { arm: words.say(`arm.${arm}`) });
}

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @param {import("../pure/session/run.js").Run} run as it was saved
 * @param {AbortSignal} signal
 */
function askSharp(root, edges, run, signal) {
  const form = /** @type {HTMLFormElement} */ (find(root, "form"));
  form.hidden = false;
  find(form, "[data-arm]").hidden = plannedArms(run.plan).length < 2;
  const known = armsOf(run.sharpArm).length < 2 ? form.querySelector(`[name="arm"][value="${run.sharpArm}"]`) : null;
  known?.setAttribute("checked", "");
  const submit = (/** @type {Event} */ event) => {
    event.preventDefault();
    const answers = new FormData(form);
    const missing = ["where", "like", "sign"].find((name) => !answers.has(name));
    if (!missing) return void putRight(root, form, edges, run, answers);
    showFault(form, edges.words.say(`sharp.missing_${missing}`), form.querySelector(`[name="${missing}"]`));
  };
  form.addEventListener("submit", submit, { signal });
}

/**
 * @param {HTMLElement} root
 * @param {HTMLFormElement} form
 * @param {import("../main.js").Edges} edges
 * @param {import("../pure/session/run.js").Run} run
 * @param {FormData} answers
 */
async function putRight(root, form, { store, words, announce }, run, answers) {
  const sharpArm = String(answers.get("arm") ?? run.sharpArm);
  const [where, like] = [String(answers.get("where")), String(answers.get("like"))];
  const sharp_told = { where, like, sign: answers.get("sign") === "yes" };
  const body = {
    replaces: /** @type {string} */ (run.entry),
    body: { ...finishedBody({ ...run, sharpArm }), sharp_told },
  };
  const signs = sharp_told.sign ? [unnamedSign(run.on, sharpArm)] : [];
  const isSaved = await store.addEvents({ kind: "entry_corrected", on: run.on, body }, ...signs).then(
    () => true,
    () => false,
  );
  if (!isSaved) return showFault(form, words.say("sharp.not_saved"), null);
  void store.clearRun().catch(() => undefined);
  form.hidden = true;
  find(root, "[data-mistake]").hidden = true;
  find(root, "[data-sign]").hidden = !sharp_told.sign;
  fillSlots(root, { saved: words.say("sharp.told") });
  announce(words.say("sharp.told"));
  find(root, "h1").focus();
}

/**
 * A warning sign that is true becomes its own entry: a release that does not cover that entry must not end the hold.
 * @param {string} on
 * @param {string} arm
 */
const unnamedSign = (on, arm) => ({
  kind: /** @type {const} */ ("warning_raised"),
  on,
  body: { sign: "unnamed", arms: armsOf(arm) },
});
