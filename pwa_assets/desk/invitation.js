/**
 * The page of an invitation: it copies the link, prints the slip, and notices by itself when the phone has come.
 * Without it the link can be selected, and a link on the page looks again.
 */

const EVERY_MS = 5000;
/** Whoever leaves the page open overnight is not asked for ever. */
const MOST_TIMES = 360;
let times = 0;

for (const print of all("[data-print]")) {
  print.hidden = false;
  print.addEventListener("click", () => window.print());
}
for (const copy of all("[data-copy]")) {
  copy.hidden = false;
  copy.addEventListener("click", () => void copied(copy));
}
for (const part of all("[data-arrival]")) follow(part);

/** @param {HTMLElement} button */
async function copied(button) {
  const field = /** @type {HTMLInputElement} */ (document.getElementById(button.dataset.copy ?? ""));
  const [said] = all("[data-copied]");
  field.select();
  try {
    await navigator.clipboard.writeText(field.value);
    said.textContent = said.dataset.yes ?? "";
  } catch {
    said.textContent = said.dataset.no ?? "";
  }
}

/** @param {HTMLElement} part */
function follow(part) {
  const said = find(part, "[data-by-itself]");
  said.textContent = said.dataset.said ?? "";
  find(part, "[data-look]").hidden = true;
  const timer = setInterval(async () => {
    if (document.visibilityState !== "visible") return;
    times += 1;
    const isOver = await look(part, said).catch(() => false);
    if (isOver || times > MOST_TIMES) clearInterval(timer);
  }, EVERY_MS);
}

/**
 * @param {HTMLElement} part
 * @param {HTMLElement} said
 * @returns {Promise<boolean>} whether everything has happened
 */
async function look(part, said) {
  const answer = await fetch(part.dataset.arrival ?? "", { cache: "no-store" });
  /** @type {Record<string, boolean>} */
  const steps = await answer.json();
  for (const [step, isDone] of Object.entries(steps)) {
    if (!isDone) continue;
    find(part, `[data-step="${step}"]`).dataset.done = "";
    find(part, `[data-word="${step}"]`).textContent = said.dataset.yes ?? "";
  }
  if (steps.joined) said.textContent = said.dataset.joined ?? "";
  return Object.values(steps).every(Boolean);
}

/** @param {HTMLElement} root @param {string} selector @returns {HTMLElement} */
function find(root, selector) {
  return /** @type {HTMLElement} */ (root.querySelector(selector));
}

/** @param {string} selector @returns {HTMLElement[]} */
function all(selector) {
  return Array.from(document.querySelectorAll(selector));
}
