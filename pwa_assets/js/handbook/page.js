/**
 * The handbook: the list of its pages with a search over all of them, and one page. All pages are templates, so nothing is fetched.
 */

import { createWristDrawing } from "../drawing/wrist_drawing.js";
import { fillSlots, find, piece } from "../parts/pieces.js";
import { drawnFor } from "../pure/drawing/drawn_movements.js";
import { seek } from "../pure/handbook/seek.js";
import { marksOf } from "../pure/session/pacer.js";

/** @typedef {import("../pure/handbook/seek.js").Leaf & {minutes: number}} Page */

const NAMED = "handbook.";

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @returns {() => void} stop
 */
export function start(root, edges) {
  const over = new AbortController();
  root.replaceChildren(piece("handbook", "screen"));
  const pages = pagesOf(document);
  const nth = pages.findIndex(({ id }) => id === new URLSearchParams(location.hash.split("?")[1]).get("page"));
  if (nth < 0) drawList(root, pages, edges.words, over.signal);
  else drawPage(root, pages, nth, edges.words);
  return () => over.abort();
}

/** @param {Document} shell @returns {Page[]} in their order */
function pagesOf(shell) {
  const held = /** @type {NodeListOf<HTMLTemplateElement>} */ (
    shell.querySelectorAll(`template[data-piece^="${NAMED}"]`)
  );
  return [...held].map(({ dataset, content }) => {
    const leaf = find(content, "article");
    const lines = [...leaf.querySelectorAll("h2, p, dt, dd")].map((line) => line.textContent ?? "");
    const id = (dataset.piece ?? "").slice(NAMED.length);
    return { id, title: leaf.dataset.title ?? "", minutes: Number(leaf.dataset.minutes), lines };
  });
}

/**
 * @param {HTMLElement} root
 * @param {Page[]} pages
 * @param {import("../edges/screen/words.js").Words} words
 * @param {AbortSignal} signal
 */
function drawList(root, pages, words, signal) {
  const read = find(root, "[data-read]");
  read.append(piece("handbook_list"));
  const [form, field] = [find(read, "form"), /** @type {HTMLInputElement} */ (find(read, "input"))];
  const show = () => {
    const word = field.value.trim();
    const places = word ? seek(pages, word) : pages.map(({ id }) => ({ id }));
    find(read, "[data-found]").replaceChildren(...places.map((found) => rowOf(pages, found, words)));
    fillSlots(read, {
      places: word && places.length ? words.plural("handbook.places", places.length) : "",
      nothing: word && !places.length ? words.fill("handbook.nothing", { word }) : null,
    });
  };
  form.addEventListener("input", show, { signal });
  form.addEventListener("submit", (event) => event.preventDefault(), { signal });
  show();
}

/**
 * @param {Page[]} pages
 * @param {{id: string} & Partial<import("../pure/handbook/seek.js").Place>} found
 * @param {import("../edges/screen/words.js").Words} words
 */
function rowOf(pages, { id, before, match, after }, words) {
  const { title, minutes } = pages.find((page) => page.id === id) ?? pages[0];
  const row = fillSlots(piece("handbook_row"), { title, minutes: words.plural("handbook.minutes", minutes) });
  find(row, "a").setAttribute("href", addressOf(id));
  if (match !== undefined) {
    const found = document.createElement("mark");
    found.textContent = match;
    const line = find(row, ".seek-place");
    line.hidden = false;
    line.replaceChildren(before ?? "", found, after ?? "");
  }
  return row;
}

/** @param {string} id */
const addressOf = (id) => `#handbook?page=${id}`;

/**
 * @param {HTMLElement} root
 * @param {Page[]} pages
 * @param {number} nth from 0
 * @param {import("../edges/screen/words.js").Words} words
 */
function drawPage(root, pages, nth, words) {
  const { id, title } = pages[nth];
  const all = pages.length;
  fillSlots(root, { where: words.fill("handbook.where", { nth: nth + 1, all }), title });
  const leaf = piece(NAMED + id);
  for (const picture of leaf.querySelectorAll("[data-picture]")) drawPicture(/** @type {HTMLElement} */ (picture));
  const isLast = nth + 1 === all;
  const to = isLast ? 0 : nth + 1;
  const next = fillSlots(piece("handbook_next"), {
    title: isLast ? words.say("handbook.first") : words.fill("handbook.next", { title: pages[to].title }),
    where: words.fill("handbook.nth", { nth: to + 1, all }),
  });
  find(next, "a").setAttribute("href", addressOf(pages[to].id));
  find(root, "[data-read]").append(leaf, next, piece("handbook_back"));
}

/** Draws a movement as it stands at its upper end, with no weight. @param {HTMLElement} picture */
function drawPicture(picture) {
  const drawn = drawnFor(picture.dataset.picture ?? "");
  if (!drawn) return;
  const { top } = marksOf(drawn, 1);
  const drawing = createWristDrawing(document);
  drawing.show({ drawn, arm: "left", weighted: false, range: 1 });
  drawing.turn({ bend: top, swing: 0, open: 0, mark: top, ahead: 0, time: null });
  picture.append(drawing.element);
}
