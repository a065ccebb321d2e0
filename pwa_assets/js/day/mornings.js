/**
 * The last mornings before today's: what was told, and what may still be told. Each opens a page of its own.
 */

import { fillSlots, find, piece } from "../parts/pieces.js";

/** @param {import("./page.js").Context} context */
export function seen({ mornings }) {
  return mornings.length ? mornings : null;
}

/**
 * @param {HTMLElement} part
 * @param {import("./page.js").Context} context
 * @param {import("../main.js").Edges} edges
 */
export function draw(part, { mornings }, { words }) {
  const missing = mornings.filter(({ isWhole }) => !isWhole).length;
  const wasOpen = find(part, "[data-body]").querySelector("details")?.open ?? false;
  const node = fillSlots(piece("mornings"), { missing: missing ? words.plural("mornings.missing", missing) : null });
  find(node, "ul").append(
    ...mornings.map(({ on, pains, isWhole }) => {
      const lines = Object.entries(pains).map(([arm, pain]) =>
        words.fill("morning.told", { pain, arm: words.say(`arm.${arm}`) }),
      );
      const row = fillSlots(piece("mornings_row"), {
        day: words.day(on),
        told: lines.length ? lines.join(" ") : words.say("mornings.untold"),
        act: words.say(isWhole ? "mornings.correct" : "mornings.tell"),
      });
      find(row, "a").setAttribute("href", `#morning?${on}`);
      return row;
    }),
  );
  /** @type {HTMLDetailsElement} */ (find(node, "details")).open = wasOpen;
  find(part, "[data-body]").replaceChildren(node);
}
