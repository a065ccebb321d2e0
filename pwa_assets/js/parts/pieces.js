/**
 * Pieces of a page, cloned from the shell's templates, and their slots filled as text.
 */

/**
 * @param {string} name
 * @param {"piece"|"screen"} [sort]
 * @returns {DocumentFragment}
 */
export function piece(name, sort = "piece") {
  const found = document.querySelector(`template[data-${sort}="${name}"]`);
  if (!(found instanceof HTMLTemplateElement)) throw new Error(`the shell has no ${sort} ${name}`);
  return /** @type {DocumentFragment} */ (found.content.cloneNode(true));
}

/**
 * Fill slots; a slot given null is taken out of sight.
 * @template {ParentNode} T
 * @param {T} root
 * @param {Record<string, string|Node|null>} slots
 * @returns {T}
 */
export function fillSlots(root, slots) {
  for (const [name, value] of Object.entries(slots)) {
    for (const slot of root.querySelectorAll(`[data-slot="${name}"]`)) {
      slot.toggleAttribute("hidden", value === null);
      slot.replaceChildren(value ?? "");
    }
  }
  return root;
}

/**
 * Call something when a button of a piece is pressed.
 * @param {ParentNode} root
 * @param {string} act the button's data-act
 * @param {() => void} then
 * @param {AbortSignal} signal
 */
export function onAct(root, act, then, signal) {
  find(root, `[data-act="${act}"]`).addEventListener("click", then, { signal });
}

/**
 * @param {ParentNode} root
 * @param {string} selector
 * @returns {HTMLElement} the first match; there must be one
 */
export function find(root, selector) {
  const found = root.querySelector(selector);
  if (!(found instanceof HTMLElement)) throw new Error(`the shell has no ${selector}`);
  return found;
}

/**
 * What has just been hidden must not take the focus with it: whoever goes by keys would begin again at the top of the page.
 * @param {HTMLElement} root
 * @param {string} [to] what takes the focus in its place
 */
export function keepFocus(root, to = "h1") {
  const focused = document.activeElement;
  if (focused && root.contains(focused) && focused.getClientRects().length === 0) find(root, to).focus();
}

/**
 * Say what is wrong beside the question, and bring the eye and the keyboard to it.
 * @param {ParentNode} root holds one [data-fault]
 * @param {string} text
 * @param {HTMLElement|null} culprit
 */
export function showFault(root, text, culprit) {
  const fault = find(root, "[data-fault]");
  fault.hidden = false;
  fault.textContent = text;
  culprit?.focus();
}

/**
 * Calls something once what stands on the page is painted; in a page that cannot be seen, a moment later.
 * @param {() => void} work
 */
export function afterPaint(work) {
  if (document.visibilityState === "visible") requestAnimationFrame(() => setTimeout(work));
  else setTimeout(work);
}
