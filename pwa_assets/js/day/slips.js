/**
 * Slips of paper on the day page: what the client must see before anything else.
 */

import { drawFetch, weightsOf } from "../arriving/fetch.js";
import { fillSlots, find, piece } from "../parts/pieces.js";
import { isBeforeAll } from "../pure/dose/daybook.js";

const LINKS = ["signed_out", "other_client", "refused", "to_confirm"];

/** @param {import("./page.js").Context} context */
export function seen(context) {
  const isBefore = isFirst(context);
  const fetch = isBefore && context.plan ? weightsOf(context.plan) : null;
  return { link: context.link, isNewer: mayChangeOver(context), isBefore, fetch };
}

/**
 * @param {HTMLElement} part
 * @param {import("./page.js").Context} context
 * @param {import("../main.js").Edges} edges
 * @param {AbortSignal} signal
 */
export function draw(part, context, edges, signal) {
  const { words, keeper, go } = edges;
  part.replaceChildren();
  if (LINKS.includes(context.link)) {
    const [label, hash] = context.link === "signed_out" ? ["link.new_code", "#join"] : ["link.look", "#about"];
    part.append(slip(words.say(`link.${context.link}`), words.say(label), () => go(hash), signal));
  }
  if (mayChangeOver(context)) {
    part.append(slip(words.say("newer.waiting"), words.say("newer.use"), keeper.useNewer, signal));
  }
  if (!isFirst(context)) return;
  part.append(fillSlots(piece("before_you_begin"), { caution: context.bundle.caution }));
  if (context.plan) part.append(drawFetch(weightsOf(context.plan), words));
}

/** Before the first session, once nothing else must come before it. @param {import("./page.js").Context} context */
const isFirst = (context) =>
  context.start.waitsFor === "nothing" && context.course.to !== "ended" && isBeforeAll(context);

/**
 * @param {string} text
 * @param {string} label
 * @param {() => void} then
 * @param {AbortSignal} signal
 */
function slip(text, label, then, signal) {
  const node = fillSlots(piece("slip"), { text });
  const button = document.createElement("button");
  button.type = "button";
  button.textContent = label;
  button.addEventListener("click", then, { signal });
  find(node, ".acts").append(button);
  return node;
}

/** A newer build must never replace the app while a session is open. @param {import("./page.js").Context} context */
function mayChangeOver({ isNewer, run }) {
  return isNewer && !run;
}
