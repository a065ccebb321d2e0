/**
 * Says a change to a screen reader without moving the focus.
 * Two polite regions take turns, so that the same text twice is still said twice.
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
