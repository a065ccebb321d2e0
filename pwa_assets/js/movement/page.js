/**
 * One movement explained. Its order is that of the routine; a phone without a routine shows all movements.
 *
 * @typedef {import("../wire.js").Bundle} Bundle
 * @typedef {import("../pure/session/timeline.js").Step} Step
 * @typedef {Awaited<ReturnType<import("../edges/storage/store.js").Store["snapshot"]>>} Snapshot
 */

import { fillSlots, find, onAct, piece } from "../parts/pieces.js";
import { drawnFor } from "../pure/drawing/drawn_movements.js";
import { isWork } from "../pure/session/timeline.js";
import { ownLeaf } from "./own.js";
import { createTurns, turnsOf } from "./turns.js";

const NAMED = "movement.";
const STILL = "(prefers-reduced-motion: reduce)";

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @returns {() => void} stop
 */
export function start(root, edges) {
  const over = new AbortController();
  const query = new URLSearchParams(location.hash.split("?")[1]);
  root.replaceChildren(piece("movement", "screen"));
  void edges.store.page().then(({ snapshot, meta }) => {
    if (over.signal.aborted) return;
    const all = movementsOf(snapshot.bundle);
    const nth = Math.max(0, all.indexOf(query.get("of") ?? ""));
    drawWords(root, all, nth, query.get("from") === "session", edges.words, snapshot.bundle?.movements ?? {});
    drawPicture(root, all[nth], snapshot, meta.ways?.timing ?? {}, edges.words, over.signal);
  });
  return () => over.abort();
}

/**
 * @param {Bundle|null} bundle
 * @returns {string[]} the movements of the fullest day, in the order in which they are done; without a routine all there are
 */
function movementsOf(bundle) {
  const doses = bundle?.doses ?? [];
  const lists = doses.map(({ warm_ups, sets, holds }) =>
    [...warm_ups, ...sets, ...holds].map(({ movement }) => movement),
  );
  const [fullest] = lists.sort((first, second) => second.length - first.length);
  if (fullest?.length) return [...new Set(fullest)];
  const held = /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll(`template[data-piece^="${NAMED}"]`));
  return [...held].map(({ dataset }) => (dataset.piece ?? "").slice(NAMED.length));
}

/**
 * @param {HTMLElement} root
 * @param {string[]} all
 * @param {number} nth from 0
 * @param {boolean} isFromSession
 * @param {import("../edges/screen/words.js").Words} words
 * @param {Partial<Bundle["movements"]>} movements
 */
function drawWords(root, all, nth, isFromSession, words, movements) {
  const leafOf = (/** @type {string} */ id) => ownLeaf(movements[id]) ?? find(piece(NAMED + id), "article");
  const [leaf, to] = [leafOf(all[nth]), (nth + 1) % all.length];
  const count = (/** @type {number} */ at) => ({ nth: at + 1, all: all.length });
  fillSlots(root, {
    where: words.fill("movement.where", count(nth)),
    title: leaf.dataset.title ?? "",
    next: words.fill("movement.next", { title: leafOf(all[to]).dataset.title ?? "" }),
    next_where: words.fill("movement.nth", count(to)),
  });
  find(root, "[data-said]").replaceChildren(leaf);
  const from = isFromSession ? "&from=session" : "";
  find(root, "[data-next]").setAttribute("href", `#movement?of=${all[to]}${from}`);
  if (!isFromSession) return;
  find(root, "[data-back]").setAttribute("href", "#session");
  find(root, "[data-back]").textContent = words.say("movement.session");
}

/**
 * Draws the picture as today asks for the movement: its range, its weight, its arm, its tempo.
 * @param {HTMLElement} root
 * @param {string} id
 * @param {Snapshot} snapshot
 * @param {Record<string, number>} timing the seconds that the client chose
 * @param {import("../edges/screen/words.js").Words} words
 * @param {AbortSignal} signal
 */
function drawPicture(root, id, { bundle, days }, timing, words, signal) {
  const drawn = drawnFor(id, bundle?.movements[id]?.own);
  const button = /** @type {HTMLButtonElement} */ (find(root, '[data-act="play"]'));
  const found = bundle?.steps.find((/** @type {Step} */ each) => each.movement === id && isWork(each));
  if (!drawn || !found) {
    button.hidden = true;
    return;
  }
  const day = days.find(({ isHeldNow }) => !isHeldNow) ?? days[0];
  const set = day?.dose.sets.find(({ movement }) => movement === id);
  const hold = day?.dose.holds.find(({ movement }) => movement === id);
  const own = atOwnTempo(/** @type {Step} */ ({ ...found, range: set?.range ?? found.range }), timing);
  const subject = { drawn, arm: day?.arm ?? bundle.arms[0], weighted: (set?.load_kg ?? 0) > 0, range: own.range };
  drawTempo(root, own, hold?.seconds ?? own.seconds, bundle.movements[id].cues, words);
  const isStill = matchMedia(STILL).matches;
  const turns = createTurns(find(root, "[data-picture]"), subject, turnsOf(own), isStill);
  find(root, "[data-picture]").toggleAttribute("data-stills", isStill);
  button.hidden = isStill;
  playOnTap(root, turns, words, signal);
}

/** @param {Step} step @param {Record<string, number>} timing @returns {Step} a lift takes the seconds that the client chose */
function atOwnTempo(step, timing) {
  if (step.kind !== "reps") return step;
  const [up, down] = [timing.up ?? step.up, timing.down ?? step.down];
  return { ...step, up, down, seconds: step.reps * (up + down) };
}

/**
 * @param {HTMLElement} root
 * @param {ReturnType<typeof createTurns>} turns
 * @param {import("../edges/screen/words.js").Words} words
 * @param {AbortSignal} signal
 */
function playOnTap(root, turns, words, signal) {
  let isMoving = false;
  const show = (/** @type {boolean} */ moves) => {
    isMoving = moves;
    fillSlots(root, { play: words.say(moves ? "movement.stop" : "movement.play") });
  };
  const press = () => {
    if (isMoving) turns.rest();
    else turns.play(() => show(false));
    show(!isMoving);
  };
  onAct(root, "play", press, signal);
  find(root, "[data-picture]").addEventListener("click", () => find(root, '[data-act="play"]').click(), { signal });
  signal.addEventListener("abort", turns.rest);
}

/**
 * From left to right is time: each way is as wide as it is long.
 * @param {HTMLElement} root
 * @param {Step} step
 * @param {number} held seconds of a stretch
 * @param {import("../wire.js").Cues} cues
 * @param {import("../edges/screen/words.js").Words} words
 */
function drawTempo(root, { kind, seconds, reps, up, down }, held, cues, words) {
  const each = kind === "warm_up" ? seconds / reps / 2 : 0;
  const ways = { [cues.up]: up || each, [cues.down]: down || each };
  const shown = Object.entries(kind === "hold" ? { [words.say("movement.hold")]: held } : ways);
  const rows = shown.map(([way, long]) => {
    const row = fillSlots(piece("movement_way"), { way, seconds: words.fill("movement.seconds", { seconds: long }) });
    find(row, "div").style.flexGrow = String(long);
    return row;
  });
  find(root, "[data-tempo]").replaceChildren(...rows);
}
