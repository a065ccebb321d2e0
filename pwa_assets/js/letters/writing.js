/**
 * The field in which a letter is written. What is typed is kept on the phone a moment later, and sent only when that is asked for.
 */

import { fillSlots, find, showFault } from "../parts/pieces.js";
import { lengthOf, tidied } from "../pure/letters/thread.js";
import { LETTER_LENGTH } from "../pure/sync/entry_check.js";

const PAUSE_MS = 400;
/** A second tap so soon after the first is not meant for an empty letter. */
const ONE_TAP_MS = 1500;
/** From so many characters on, the page says how many there are. */
const NEARLY_FULL = 800;

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @param {AbortSignal} signal
 * @returns {{show(): Promise<void>, follow(): void, keep(): void}} show: put the kept draft into the field; follow: the same, unless
 *   somebody writes here; keep: store what was typed last
 */
export function wireWriting(root, edges, signal) {
  const { store, clock } = edges;
  const form = find(root, "form");
  const field = /** @type {HTMLTextAreaElement} */ (find(form, "textarea"));
  /** @type {{draft: import("../edges/storage/letter_box.js").Draft|null, isTyped: boolean, sentAt: number, cancel(): void}} */
  const state = { draft: null, isTyped: false, sentAt: 0, cancel: () => undefined };
  const keep = () => {
    state.cancel();
    if (!state.isTyped || !state.draft) return;
    state.isTyped = false;
    state.draft = { id: state.draft.id, text: field.value };
    void store.keepLetterDraft(state.draft);
  };
  const show = async () => {
    const draft = await store.letterDraft();
    if (signal.aborted || state.isTyped) return;
    state.draft = draft;
    field.readOnly = false;
    if (field.value !== draft.text) field.value = draft.text;
    count(form, field.value, edges.words);
  };
  const type = async () => {
    state.isTyped = true;
    count(form, field.value, edges.words);
    state.draft ??= await store.letterDraft();
    state.cancel();
    state.cancel = clock.after(PAUSE_MS, keep);
  };
  field.addEventListener("input", () => void type(), { signal });
  form.addEventListener("submit", (event) => void send(event, form, edges, state, show), { signal });
  for (const sign of ["visibilitychange", "pagehide"]) document.addEventListener(sign, keep, { signal });
  void show();
  return { show, follow: () => void (document.activeElement === field || show()), keep };
}

/** @param {HTMLElement} form @param {string} text @param {import("../edges/screen/words.js").Words} words */
function count(form, text, words) {
  const length = lengthOf(tidied(text));
  const gaps = { n: words.number(length), most: words.number(LETTER_LENGTH) };
  fillSlots(form, { length: length < NEARLY_FULL ? null : words.fill("letters.length", gaps) });
  if (length <= LETTER_LENGTH) find(form, "[data-fault]").hidden = true;
}

/**
 * @param {Event} event
 * @param {HTMLElement} form
 * @param {import("../main.js").Edges} edges
 * @param {{draft: import("../edges/storage/letter_box.js").Draft|null, isTyped: boolean, sentAt: number, cancel(): void}} state
 * @param {() => Promise<void>} show
 */
async function send(event, form, { store, clock, words, announce }, state, show) {
  event.preventDefault();
  const field = /** @type {HTMLTextAreaElement} */ (find(form, "textarea"));
  const text = tidied(field.value);
  const gaps = { n: words.number(lengthOf(text)), most: words.number(LETTER_LENGTH) };
  if (!text && clock.now() - state.sentAt < ONE_TAP_MS) return;
  if (!text) return showFault(form, words.say("letters.empty"), field);
  if (lengthOf(text) > LETTER_LENGTH) return showFault(form, words.fill("letters.too_long", gaps), field);
  const { id } = state.draft ?? (await store.letterDraft());
  state.cancel();
  try {
    await store.sendLetter({ id, text }, clock.today());
  } catch {
    return showFault(form, words.say("letters.not_kept"), null);
  }
  Object.assign(state, { isTyped: false, sentAt: clock.now() });
  await show();
  announce(words.say("letters.on_its_way"));
  find(document, "#page h1").focus({ preventScroll: true });
  find(document, ".letters").lastElementChild?.scrollIntoView({ block: "nearest" });
}
