/**
 * The morning report's questions, one block an arm; half-filled answers are kept on the phone.
 *
 * @typedef {Record<string, {pain: number|null, sharp: boolean|null}>} Answers by arm
 */

import { fillSlots, one, piece, showFault } from "./pieces.js";
import { createScale, createYesNo } from "./scale.js";

const DRAFT = "morningDraft";

/**
 * @param {import("../main.js").Edges} edges
 * @param {{arms: string[], answers: Answers, lead: string|null, keep(answers: Answers): void,
 *   save(arms: Record<string, {pain: number, sharp: boolean}>): Promise<void>}} asked
 * @param {AbortSignal} signal
 * @returns {DocumentFragment}
 */
export function createMorningForm(edges, asked, signal) {
  const node = fillSlots(piece("morning_form"), { lead: asked.lead });
  const form = one(node, "form");
  const questions = asked.arms.map((arm) => questionsOf(edges.words, arm, asked.answers[arm]));
  for (const { pain, sharp } of questions) one(form, "[data-arms]").append(pain.node, sharp.node);
  const read = () =>
    Object.fromEntries(questions.map(({ arm, pain, sharp }) => [arm, { pain: pain.read(), sharp: sharp.read() }]));
  form.addEventListener("change", () => asked.keep(read()), { signal });
  const submit = async () => {
    const missing = firstMissing(edges.words, questions);
    if (missing) return showFault(form, missing.text, missing.culprit);
    const saved = await asked.save(/** @type {any} */ (read())).then(
      () => true,
      () => false,
    );
    if (!saved) showFault(form, edges.words.say("day.not_saved"), null);
  };
  form.addEventListener(
    "submit",
    (event) => {
      event.preventDefault();
      void submit();
    },
    { signal },
  );
  return node;
}

/**
 * Answers given and not yet saved, if they are of this day.
 * @param {import("../edges/store.js").Store} store
 * @param {string} today
 * @returns {Promise<Answers>}
 */
export async function draftOf(store, today) {
  const draft = await store.getMeta(DRAFT);
  return draft?.on === today ? draft.answers : {};
}

/**
 * @param {import("../edges/store.js").Store} store
 * @param {string} today
 * @param {Answers} answers
 */
export function keepDraft(store, today, answers) {
  return store.setMeta(DRAFT, { on: today, answers });
}

/**
 * @param {import("../edges/words.js").Words} words
 * @param {string} arm
 * @param {{pain: number|null, sharp: boolean|null}|undefined} given
 */
function questionsOf(words, arm, given) {
  const name = words.say(`arm.${arm}`);
  const pain = createScale(words, {
    name: `pain-${arm}`,
    legend: words.fill("morning.legend", { arm: name }),
    value: given?.pain,
  });
  const sharp = createYesNo({
    name: `sharp-${arm}`,
    legend: words.fill("morning.sharp", { arm: name }),
    value: given?.sharp,
  });
  return { arm, name, pain, sharp };
}

/**
 * @param {import("../edges/words.js").Words} words
 * @param {ReturnType<typeof questionsOf>[]} questions
 * @returns {{text: string, culprit: HTMLElement}|null}
 */
function firstMissing(words, questions) {
  for (const { name, pain, sharp } of questions) {
    if (pain.read() === null) return { text: words.fill("morning.missing_pain", { arm: name }), culprit: pain.first };
    if (sharp.read() === null)
      return { text: words.fill("morning.missing_sharp", { arm: name }), culprit: sharp.first };
  }
  return null;
}
