/**
 * Pieces of a page: they are cloned from the shell's templates, and their slots are filled with text.
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
 * Fill slots; a slot whose value is null is hidden.
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
 * Call a function when a button of a piece is pressed.
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
 * Move the focus if the focused element was just hidden. Otherwise a person who uses the keyboard starts again at the top.
 * @param {HTMLElement} root
 * @param {string} [to] the selector of the new focus
 */
export function keepFocus(root, to = "h1") {
  const focused = document.activeElement;
  if (focused && root.contains(focused) && focused.getClientRects().length === 0) find(root, to).focus();
}

/**
 * Show what is wrong beside the question, and move the focus to it.
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

/** @type {(() => void)[]} */
const works = [];

/**
 * Calls something once what stands on the page is painted; in a page that cannot be seen, a moment later. Of several works
 * each waits for a frame of its own, so that a slow phone shows each as soon as it is done, and hears a tap in between.
 * @param {() => void} work
 */
export function afterPaint(work) {
  works.push(work);
  if (works.length === 1) nextFrame();
}

function nextFrame() {
  if (document.visibilityState === "visible") requestAnimationFrame(() => setTimeout(doOne));
  else setTimeout(doOne);
}

function doOne() {
  try {
    works[0]();
  } finally {
    works.shift();
    if (works.length > 0) nextFrame();
  }
}
