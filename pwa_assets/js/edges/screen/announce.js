/**
 * Makes a screen reader say a text without moving the focus.
 * Two polite regions take turns, so that the same text is read again when it comes twice.
 */

const SETTLING_MS = 100;

/**
 * @param {Document} page holds two elements marked data-announce
 * @param {import("../clock.js").Clock} clock
 * @returns {(text: string) => void}
 */
export function createAnnouncer(page, clock) {
  const regions = [...page.querySelectorAll("[data-announce]")];
  let turn = 0;
  return (text) => {
    const [said, next] = [regions[turn], regions[1 - turn]];
    turn = 1 - turn;
    said.textContent = "";
    clock.after(SETTLING_MS, () => {
      next.textContent = text;
    });
  };
}
