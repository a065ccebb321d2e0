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
for (const part of all("[data-arrival]")) follow(part, part.dataset.arrival ?? "", showSteps);
for (const part of all("[data-arrivals]")) follow(part, part.dataset.arrivals ?? "", showCounts);

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

/**
 * Ask again and again how far a phone, or a group, has come.
 *
 * @param {HTMLElement} part
 * @param {string} address
 * @param {(part: HTMLElement, said: HTMLElement, answer: Record<string, any>) => boolean} show says whether everything has happened
 */
function follow(part, address, show) {
  const said = find(part, "[data-by-itself]");
  const again = find(part, "[data-look]");
  said.textContent = said.dataset.said ?? "";
  again.hidden = true;
  const timer = setInterval(async () => {
    if (document.visibilityState !== "visible") return;
    times += 1;
    const isOver = await look(address, (answer) => show(part, said, answer)).catch(() => false);
    if (isOver || times > MOST_TIMES) clearInterval(timer);
    if (!isOver && times > MOST_TIMES) {
      said.textContent = "";
      again.hidden = false;
    }
  }, EVERY_MS);
}

/**
 * @param {string} address
 * @param {(answer: Record<string, any>) => boolean} show
 * @returns {Promise<boolean>} whether everything has happened
 */
async function look(address, show) {
  const answer = await fetch(address, { cache: "no-store" });
  return show(await answer.json());
}

/** @param {HTMLElement} part @param {HTMLElement} said @param {Record<string, boolean>} steps @returns {boolean} */
function showSteps(part, said, steps) {
  for (const [step, isDone] of Object.entries(steps)) {
    if (!isDone) continue;
    find(part, `[data-step="${step}"]`).dataset.done = "";
    find(part, `[data-word="${step}"]`).textContent = said.dataset.yes ?? "";
  }
  if (steps.joined) said.textContent = said.dataset.joined ?? "";
  return Object.values(steps).every(Boolean);
}

/** @param {HTMLElement} part @param {HTMLElement} said @param {Record<string, number>} counts @returns {boolean} */
function showCounts(part, said, counts) {
  for (const [name, count] of Object.entries(counts)) {
    const shown = find(part, `[data-count="${name}"]`);
    if (shown.textContent === String(count)) continue;
    shown.textContent = String(count);
    said.textContent = said.dataset.changed ?? "";
    find(part, "[data-look]").hidden = false;
  }
  return false;
}

/** @param {HTMLElement} root @param {string} selector @returns {HTMLElement} */
function find(root, selector) {
  return /** @type {HTMLElement} */ (root.querySelector(selector));
}

/** @param {string} selector @returns {HTMLElement[]} */
function all(selector) {
  return Array.from(document.querySelectorAll(selector));
}
