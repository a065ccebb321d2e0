/**
 * The choices before the start: how much, which arms, whose pace, who speaks, how loud, how long the pauses.
 * Each choice takes effect at once. The phone remembers it, except for the choices that are made for one session.
 *
 * @typedef {import("../pure/session/ways.js").Ways} Ways
 */

import { fillSlots, find, piece } from "../parts/pieces.js";

const PER_CENT = 100;
const TIMES = ["prepare", "up", "down", "rest", "change_arm"];

/**
 * @param {HTMLElement} root holds the choices
 * @param {import("../main.js").Edges} edges
 * @param {{ways: Ways, offered: Record<string, boolean>, timing: Record<string, [number, number, number]>, isBegun: boolean}} given
 *   timing: by name, the routine's seconds, the least and the most; isBegun: the steps can no longer change
 * @param {(ways: Ways, field: string) => void} choose
 * @param {AbortSignal} signal
 */
export function drawWays(root, edges, { ways, offered, timing, isBegun }, choose, signal) {
  for (const part of isBegun ? root.querySelectorAll("[data-shapes]") : []) part.remove();
  for (const radio of /** @type {NodeListOf<HTMLInputElement>} */ (root.querySelectorAll("input[type=radio]"))) {
    radio.checked = ways[/** @type {keyof Ways} */ (radio.name)] === radio.value;
    show(radio, offered[radio.value] !== false);
  }
  for (const box of /** @type {NodeListOf<HTMLInputElement>} */ (root.querySelectorAll("input[type=checkbox]"))) {
    box.checked =
      Boolean(ways[/** @type {"keepsMusic"} */ (box.name)]) && (box.name !== "hand" || ways.hand === "left");
    show(box, has(edges, box.name));
  }
  for (const group of root.querySelectorAll("fieldset[data-choice]")) {
    /** @type {HTMLElement} */ (group).hidden = group.querySelectorAll("label:not([hidden])").length < 2;
  }
  for (const slider of /** @type {NodeListOf<HTMLInputElement>} */ (root.querySelectorAll("input[type=range]"))) {
    slider.value = String(Number(ways[/** @type {keyof Ways} */ (slider.name)]) * PER_CENT);
  }
  if (!isBegun) drawTimes(root, edges.words, ways, timing);
  let now = ways;
  root.addEventListener(
    "input",
    ({ target }) => {
      if (!(target instanceof HTMLInputElement)) return;
      now = changed(now, target);
      if (target.dataset.time) showSeconds(target, edges.words);
      choose(now, target.name);
    },
    { signal },
  );
}

/**
 * One line that lists what differs from the plain way.
 * @param {import("../edges/screen/words.js").Words} words
 * @param {Ways} ways
 * @returns {string|null}
 */
export function waysText(words, { part, arms, pace, speaker, timing }) {
  const named = [part, arms, pace, speaker, Object.keys(timing).length ? "times" : ""];
  const keys = named.map((way) => `way.${way}`).filter((key) => words.has(key));
  return keys.length ? words.list(keys.map((key) => words.say(key))) : null;
}

/** @param {HTMLInputElement} input @param {boolean} isShown */
function show(input, isShown) {
  const label = input.closest("label");
  if (label) label.hidden = !isShown;
}

/** @param {import("../main.js").Edges} edges @param {string} name @returns {boolean} whether this phone can do it */
function has({ tones, touch }, name) {
  if (name === "keepsMusic") return tones.canKeepMusic();
  return name !== "vibrates" || touch.isThere();
}

/** @param {Ways} ways @param {HTMLInputElement} input @returns {Ways} */
function changed(ways, input) {
  const { name, dataset, type } = input;
  if (dataset.time) return { ...ways, timing: { ...ways.timing, [dataset.time]: Number(input.value) } };
  if (name === "hand") return { ...ways, hand: input.checked ? "left" : "right" };
  if (type === "range") return { ...ways, [name]: Number(input.value) / PER_CENT };
  return { ...ways, [name]: type === "checkbox" ? input.checked : input.value };
}

/**
 * @param {HTMLElement} root
 * @param {import("../edges/screen/words.js").Words} words
 * @param {Ways} ways
 * @param {Record<string, [number, number, number]>} timing
 */
function drawTimes(root, words, ways, timing) {
  const rows = TIMES.filter((name) => timing[name]).map((name) => {
    const [seconds, low, high] = timing[name];
    const row = fillSlots(piece("way_time"), { time: words.say(`way.${name}`) });
    const input = /** @type {HTMLInputElement} */ (find(row, "input"));
    Object.assign(input, { min: low, max: high, step: name === "up" || name === "down" ? 0.5 : 1 });
    input.value = String(ways.timing[name] ?? seconds);
    input.dataset.time = name;
    showSeconds(input, words);
    return row;
  });
  find(root, "[data-times]").append(...rows);
  find(root, "[data-times]").hidden = rows.length === 0;
}

/** @param {HTMLInputElement} input @param {import("../edges/screen/words.js").Words} words */
function showSeconds(input, words) {
  const text = words.fill("way.seconds", { seconds: Number(input.value) });
  input.setAttribute("aria-valuetext", text);
  if (input.parentElement) fillSlots(input.parentElement, { seconds: text });
}
