/**
 * Days away: what they were, as the client tells it. It changes no dose. After a long absence it also asks for what bears on the arm.
 *
 * @typedef {import("../wire.js").AwayBody} AwayBody
 */

import { fillSlots, find, keepFocus, onAct, piece, showFault } from "../parts/pieces.js";
import { eventsOn } from "../pure/dose/daybook.js";

/**
 * What happened meanwhile stands on the page until a session is done after it, and on its own day in any case.
 * @param {Pick<import("./page.js").Context, "absence"|"events"|"today">} context
 */
export function seen({ absence, events, today }) {
  const sessions = eventsOn(events, "session_finished", null);
  const isStill = (/** @type {string} */ on) => on === today || !sessions.some((session) => session.on >= on);
  const answers = eventsOn(events, "away_noted", null).filter(({ on }) => isStill(on));
  const happened = answers.flatMap(({ body }) => body.happened ?? []);
  return absence || happened.length ? { absence, happened: [...new Set(happened)] } : null;
}

/**
 * @param {HTMLElement} part
 * @param {import("./page.js").Context} context
 * @param {import("../main.js").Edges} edges
 * @param {AbortSignal} signal
 */
export function draw(part, context, edges, signal) {
  const { words } = edges;
  const shown = seen(context);
  if (!shown) return;
  const { absence, happened } = shown;
  fillSlots(part, { away: words.say(absence ? "away.title" : "away.told") });
  if (absence) return void find(part, "[data-body]").replaceChildren(form(absence, context, edges, signal));
  const names = happened.map((each) => words.say(`away.${each}`));
  const node = fillSlots(piece("away_told"), { text: words.fill("away.happened", { what: words.list(names) }) });
  find(part, "[data-body]").replaceChildren(node);
}

/**
 * @param {import("../pure/dose/absence.js").Absence} absence
 * @param {import("./page.js").Context} context
 * @param {import("../main.js").Edges} edges
 * @param {AbortSignal} signal
 */
function form({ first, last, isLong }, { today, putOffAway }, { words, store, announce, go }, signal) {
  const node = fillSlots(piece("away_form"), {
    lead: words.fill("away.lead", { first: words.day(first), last: words.day(last) }),
  });
  const sheet = find(node, "form");
  find(node, "[data-long]").hidden = !isLong;
  const save = async () => {
    const { kind, happened } = answersIn(sheet);
    if (!kind) return showFault(sheet, words.say("away.missing"), sheet.querySelector("input"));
    const body = { first, last, what: kind, ...(isLong ? { happened } : {}) };
    keepFocus(find(document, "#page"));
    const saved = () => {
      announce(words.say("day.saved"));
      if (happened.length) go("#warnings");
    };
    const failed = () => showFault(sheet, words.say("day.not_saved"), null);
    await store.addEvents({ kind: "away_noted", on: today, body }).then(saved, failed);
  };
  const submit = (/** @type {Event} */ event) => {
    event.preventDefault();
    void save();
  };
  sheet.addEventListener("submit", submit, { signal });
  onAct(node, "put_off", putOffAway, signal);
  return node;
}

/** @param {HTMLElement} sheet @returns {{kind: AwayBody["what"]|undefined, happened: string[]}} */
function answersIn(sheet) {
  const checked = [.../** @type {NodeListOf<HTMLInputElement>} */ (sheet.querySelectorAll("input:checked"))];
  const valuesOf = (/** @type {string} */ name) =>
    checked.filter((input) => input.name === name).map(({ value }) => value);
  const [kind] = /** @type {AwayBody["what"][]} */ (valuesOf("away"));
  return { kind, happened: valuesOf("happened") };
}
