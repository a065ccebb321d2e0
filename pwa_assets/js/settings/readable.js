/**
 * The log as a page to read: what was noted, day by day, the last day first.
 *
 * @typedef {import("../edges/screen/words.js").Words} Words
 * @typedef {import("../pure/settings/table.js").Kept} Kept
 * @typedef {import("../pure/settings/table.js").Read} Read
 */

import { keptPage } from "../parts/kept_page.js";
import { fillSlots, find, piece } from "../parts/pieces.js";
import { weightText } from "../parts/weight.js";
import { readNow } from "../pure/settings/table.js";

/**
 * @param {Kept[]} kept
 * @param {Words} words
 * @param {string} about when it was made, and how many days it holds
 * @returns {string} a whole page as HTML
 */
export function readablePage(kept, words, about) {
  const page = fillSlots(piece("data_page"), { about });
  const read = readNow(kept);
  const days = [...new Set(read.map(({ event }) => event.on))].sort().reverse();
  find(page, "tbody").append(...days.map((on) => rowOf(on, read, words)));
  return keptPage(page, words.say("title.data"));
}

/** @param {string} on @param {Read[]} read @param {Words} words @returns {HTMLElement} */
function rowOf(on, read, words) {
  const noted = read.filter(({ event }) => event.on === on).flatMap((each) => marked(each, words));
  return find(fillSlots(piece("data_row"), { day: words.date(on), noted: noted.join(" ") }), "tr");
}

/** @param {Read} read @param {Words} words @returns {string[]} whole sentences, with a mark where the client changed the entry afterwards */
function marked({ event, changed }, words) {
  const lines = linesOf(event, words);
  return changed ? lines.map((noted) => words.fill(`data.${changed}`, { noted })) : lines;
}

/** @param {Kept["event"]} event @param {Words} words @returns {string[]} whole sentences */
function linesOf({ kind, body }, words) {
  const armOf = (/** @type {string} */ arm) => words.say(`arm.${arm}`);
  if (kind === "morning_reported") {
    const arms = Object.entries(body.arms).map(([arm, { pain }]) => words.fill("data.pain", { arm: armOf(arm), pain }));
    return [words.fill("data.morning", { arms: words.list(arms) })];
  }
  if (kind !== "session_finished") {
    return [words.fill("data.other", { what: words.say(words.has(`kind.${kind}`) ? `kind.${kind}` : "kind.other") })];
  }
  return Object.entries(body.arms).map(([arm, { sets, worst = null }]) => {
    const done = sets.filter(({ reps }) => reps > 0);
    const gaps = { arm: armOf(arm), sets: words.list(done.map((set) => setText(set, words))) || "–" };
    return worst === null ? words.fill("data.session_unrated", gaps) : words.fill("data.session", { ...gaps, worst });
  });
}

/** @param {import("../wire.js").PlayedSet} set @param {Words} words */
function setText({ movement, reps, load_kg: load }, words) {
  const name = document.querySelector(`template[data-piece="movement.${CSS.escape(movement)}"]`)
    ? (find(piece(`movement.${movement}`), "article").dataset.title ?? movement)
    : movement;
  return load
    ? words.fill("data.set", { reps, name, load: weightText(words, load) })
    : words.fill("data.set_unloaded", { reps, name });
}
