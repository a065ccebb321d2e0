/**
 * The caseload: the arrow keys move from client to client. It acts only while a link of a client has the focus, so neither the
 * search, nor scrolling, nor a screen reader's own keys lose anything; without it Tab goes the same way.
 */

const STEPS = new Map([
  ["ArrowDown", 1],
  ["ArrowUp", -1],
]);

if (matchMedia("(any-hover: hover)").matches) {
  for (const note of document.querySelectorAll("[data-keys]")) note.toggleAttribute("hidden", false);
}

document.addEventListener("keydown", (event) => {
  const step = STEPS.get(event.key);
  const row = document.activeElement?.closest(".case-line");
  if (!(step && row) || event.altKey || event.ctrlKey || event.metaKey || event.shiftKey) return;
  const rows = Array.from(document.querySelectorAll(".case-line")).filter((each) => each.checkVisibility());
  const next = rows[rows.indexOf(row) + step];
  if (!next) return;
  event.preventDefault();
  /** @type {HTMLElement | null} */ (next.querySelector("h3 a"))?.focus();
});
