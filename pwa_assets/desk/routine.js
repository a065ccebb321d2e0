/**
 * The routine desk: while entries are typed it asks the server what they would do, and shows its answer in place of the
 * earlier one. It decides nothing and writes no sentence; without it the button asks for the same page.
 */

import { find } from "../js/parts/pieces.js";

const QUIET_MS = 450;
const SHOWN = 200;
const REFUSED = 409;
const SIGNED_OUT = 403;

const form = /** @type {HTMLFormElement} */ (find(document, "[data-routine-desk]"));
let underWay = new AbortController();
let timer = 0;

/**
 * Put the parts of another page that the server works out in place of this page's, and keep the focus where it was. A part
 * that says the same stays, so that no button goes away under a finger.
 *
 * @param {Document} page
 * @param {boolean} isWeeks Whether the weeks ahead are taken from it, or all the other parts.
 */
function show(page, isWeeks) {
  const focused = document.activeElement instanceof HTMLInputElement ? document.activeElement : null;
  const open = Array.from(document.querySelectorAll("[data-live] details"), (each) => each.hasAttribute("open"));
  for (const part of document.querySelectorAll("[data-live]")) {
    const name = part.getAttribute("data-live");
    const fresh = page.querySelector(`[data-live="${name}"]`);
    if (!fresh || (name === "weeks") !== isWeeks || fresh.isEqualNode(part)) continue;
    part.replaceChildren(...Array.from(fresh.childNodes, (node) => document.importNode(node, true)));
  }
  document.querySelectorAll("[data-live] details").forEach((each, number) => {
    each.toggleAttribute("open", open[number] ?? false);
  });
  // The entries are in order now, so what was wrong with them is over.
  for (const fault of form.querySelectorAll(".routine-entries .fault")) fault.remove();
  for (const entry of form.querySelectorAll(".routine-entries [aria-invalid]")) entry.removeAttribute("aria-invalid");
  if (focused?.isConnected === false) {
    const same = `input[name="${focused.name}"][value="${CSS.escape(focused.value)}"]`;
    /** @type {HTMLElement | null} */ (form.querySelector(same))?.focus();
  }
}

/**
 * Say beside the push that what is shown is older than the entries, or that nobody is signed in any more.
 *
 * @param {string} why
 */
function note(why) {
  for (const name of ["stale", "signed-out"]) {
    const line = document.querySelector(`[data-${name}]`);
    line?.toggleAttribute("hidden", name !== why);
  }
}

/**
 * Send a form's entries, and take the page that answers.
 *
 * @param {FormData} entries
 * @param {AbortSignal} signal
 * @returns {Promise<XMLHttpRequest>} With the page as a document.
 */
function sent(entries, signal) {
  const body = new URLSearchParams();
  for (const [name, value] of entries) body.append(name, String(value));
  return new Promise((resolve, reject) => {
    const request = new XMLHttpRequest();
    request.open("POST", form.action);
    request.responseType = "document";
    request.addEventListener("load", () => resolve(request));
    for (const kind of ["error", "abort"]) request.addEventListener(kind, () => reject(new Error(kind)));
    signal.addEventListener("abort", () => request.abort());
    request.send(body);
  });
}

/**
 * Ask the server what the entries do.
 *
 * @param {string} step "preview", or "weeks", which takes longer.
 * @param {AbortSignal} signal
 * @returns {Promise<boolean>} Whether the entries were in order, so that the page now shows what they do.
 */
async function ask(step, signal) {
  const entries = new FormData(form);
  entries.set("step", step);
  entries.set("by_script", "yes");
  const answer = await sent(entries, signal);
  const isIn = answer.responseURL === form.action && answer.status !== SIGNED_OUT;
  const isInOrder = answer.status === SHOWN || answer.status === REFUSED;
  note(!isIn ? "signed-out" : isInOrder ? "" : "stale");
  if (!(isIn && isInOrder && answer.responseXML)) return false;
  show(answer.responseXML, step === "weeks");
  return true;
}

/**
 * Ask what the entries do: first what is quick, then the weeks ahead. What was asked before is dropped.
 *
 * @param {boolean} [isFresh] Whether the page came from the server just now, so that only the weeks are missing.
 * @returns {Promise<boolean>} Whether the entries were in order.
 */
async function look(isFresh = false) {
  clearTimeout(timer);
  underWay.abort();
  underWay = new AbortController();
  const { signal } = underWay;
  form.ariaBusy = "true";
  try {
    if (!isFresh && !(await ask("preview", signal))) return false;
    ask("weeks", signal).catch(() => signal.aborted || note("stale"));
  } catch {
    if (!signal.aborted) note("stale");
  } finally {
    if (!signal.aborted) form.ariaBusy = "false";
  }
  return true;
}

form.addEventListener("input", () => {
  clearTimeout(timer);
  form.ariaBusy = "true";
  timer = setTimeout(() => look(), QUIET_MS);
});
form.addEventListener("submit", async (event) => {
  const button = event.submitter;
  clearTimeout(timer);
  if (!(button?.hasAttribute("data-look") || button?.hasAttribute("data-weeks"))) return;
  // The same page without a step in the browser's history, so that going back after a push opens it anew.
  event.preventDefault();
  if (await look()) {
    document.querySelector("[data-live=does]")?.scrollIntoView({ block: "nearest" });
    return;
  }
  button.removeAttribute("data-look");
  form.requestSubmit(button);
});
// The weeks ahead of the version in force, as soon as the page is open.
if (form.querySelector("[data-weeks]")) look(true);
