/**
 * Who is with the client, and how to reach them. The phone rings nobody by itself: each way is a link that a person follows.
 *
 * @typedef {import("../wire.js").PractitionerShown} Who
 */

import { fillSlots, find, piece } from "../parts/pieces.js";

const NOT_DIALLED = /[^0-9+]/g;

/**
 * @param {import("../edges/screen/words.js").Words} words
 * @param {Who|undefined} who undefined before the first contact with the practice
 * @param {{isEmergency?: boolean, mayWrite?: boolean}} [options] isEmergency: another number must be rung first, and no letter
 *   will do; mayWrite: false on the page of the letters itself
 * @returns {Node[]} nothing where nobody is known; a way that the practitioner has not given is left out
 */
export function drawWho(words, who, { isEmergency = false, mayWrite = !isEmergency } = {}) {
  if (!who?.name) return [];
  const { name, telephone, hours, email } = who;
  const node = fillSlots(piece("who"), {
    first: isEmergency ? words.say("who.emergency_first") : null,
    name,
    hours: hours || null,
    ring: telephone ? words.fill("who.ring", { telephone }) : null,
  });
  link(node, "ring", telephone && `tel:${telephone.replace(NOT_DIALLED, "")}`);
  link(node, "email", email && `mailto:${encodeURIComponent(email).replace("%40", "@")}`);
  link(node, "write", mayWrite ? "#letters" : "");
  const ways = find(node, ".who-ways");
  ways.hidden = ways.querySelector("a") === null;
  return [node];
}

/** @param {ParentNode} node @param {string} way @param {string} href "" where there is no such way */
function link(node, way, href) {
  const found = find(node, `[data-way="${way}"]`);
  if (href) found.setAttribute("href", href);
  else found.remove();
}

/**
 * Fills the page with it, from what the last contact with the practice has brought.
 * @param {ParentNode} root holds one [data-who]
 * @param {Pick<import("../main.js").Edges, "store"|"words">} edges
 * @param {{isEmergency?: boolean, mayWrite?: boolean}} [options]
 */
export async function showWho(root, { store, words }, options) {
  const who = await store.getMeta("practitioner");
  find(root, "[data-who]").replaceChildren(...drawWho(words, who, options));
}
