/**
 * The release of an arm: by whom and why. It is shown until a session of that arm is done.
 */

import { fillSlots, piece } from "../parts/pieces.js";
import { eventsOn, factsOf, releasesOf } from "../pure/dose/daybook.js";

/**
 * @typedef {{arm: string, on: string, isLater: boolean, reason: string, by: string}} Released on: the first day on which it
 *   counts; isLater: that day is still to come
 */

/**
 * @param {import("./page.js").Context} context
 * @returns {Released[]|null} at most one for each arm
 */
export function seen({ bundle, events, today, days }) {
  const found = days.flatMap((day) => releaseOf(bundle, events, today, day) ?? []);
  return found.length ? found : null;
}

/**
 * @param {import("../wire.js").Bundle} bundle
 * @param {import("../pure/dose/daybook.js").Event[]} events
 * @param {string} today
 * @param {import("../pure/dose/today.js").ArmDay} day
 * @returns {Released|null} the newest release that counts; null once the arm has trained or is held again
 */
function releaseOf(bundle, events, today, { arm, dose, isHeldNow }) {
  const on = [...releasesOf(bundle, events, arm).keys()].sort().at(-1);
  if (!on) return null;
  const isLater = on > today;
  const isHeld = dose.mode === "held" || Boolean(isHeldNow);
  const isTrained = [...factsOf(events, arm)].some(([day, { sessions }]) => day >= on && sessions > 0);
  if (isHeld !== isLater || isTrained) return null;
  const written = eventsOn(events, "hold_released", on).filter(({ body }) => body.arms[arm]);
  const { reason, by } = written[written.length - 1].body.arms[arm];
  return { arm, on, isLater, reason, by };
}

/**
 * @param {HTMLElement} part
 * @param {import("./page.js").Context} context
 * @param {import("../main.js").Edges} edges
 */
export function draw(part, context, { words }) {
  const releases = seen(context) ?? [];
  part.replaceChildren(
    ...releases.map(({ arm, on, isLater, reason, by }) => {
      const gaps = { by, arm: words.say(`arm.${arm}`), day: words.day(on) };
      const text = words.fill(isLater ? "release.later" : "release.now", gaps);
      return fillSlots(piece("released"), { text, reason });
    }),
  );
}
