/**
 * The questions of the morning report, one block for each arm. Answers that are not saved yet are stored as a draft.
 *
 * @typedef {Record<string, {pain: number|null, sharp: boolean|null, besides?: boolean|null, worst?: number|null}>} Answers by arm;
 *   worst: the missing rating of yesterday's session
 * @typedef {{today: string, since: string|null, unrated: string[], longSore?: string[], day?: string|null}} Asking day: an earlier day in words; today: the day of the report; since: the
 *   day of the last report before it, null where there is none; unrated: the arms whose session of the day before has no rating;
 *   longSore: the arms that were sore for days
 */

import { fillSlots, find, piece, showFault } from "../parts/pieces.js";
import { createScale, createYesNo } from "../parts/scale.js";
import { addDays } from "../pure/calendar/local_day.js";
import { correctedEntries } from "../pure/dose/corrections.js";
import { SHARP_RATING, stoppedArms } from "../pure/dose/stops.js";

const DRAFT = "morningDraft";

/**
 * @param {import("../main.js").Edges} edges
 * @param {Asking & {arms: string[], answers: Answers, lead: string|null, keep(answers: Answers): void,
 *   save(arms: import("../wire.js").MorningBody["arms"], worst: Record<string, number|null>): Promise<void>}} asking
 * @param {AbortSignal} signal
 * @returns {DocumentFragment}
 */
export function createMorningForm(edges, asking, signal) {
  const node = fillSlots(piece("morning_form"), { lead: asking.lead });
  const form = find(node, "form");
  const questions = asking.arms.map((arm) => questionsOf(edges.words, arm, asking));
  find(form, "[data-arms]").append(
    ...questions.flatMap(({ pain, sharp, besides, worst }) => [
      pain.node,
      sharp.node,
      ...besides.nodes,
      ...worst.nodes,
    ]),
  );
  const read = () => Object.fromEntries(questions.map((question) => [question.arm, answerOf(question)]));
  const readWorst = () => Object.fromEntries(questions.map(({ arm, worst }) => [arm, worst.read()]));
  const readAll = () =>
    Object.fromEntries(questions.map(({ arm, worst }) => [arm, { ...read()[arm], worst: worst.read() }]));
  form.addEventListener("change", () => asking.keep(readAll()), { signal });
  const submit = submitOf(form, edges.words, questions, asking, { read, readWorst });
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
 * @param {HTMLElement} form
 * @param {import("../edges/screen/words.js").Words} words
 * @param {ReturnType<typeof questionsOf>[]} questions
 * @param {Parameters<typeof createMorningForm>[1]} asking
 * @param {{read(): Answers, readWorst(): Record<string, number|null>}} answers
 * @returns {() => Promise<void>} saves the answers; it says what is missing, and asks once before a stop that cannot be taken back
 */
function submitOf(form, words, questions, asking, { read, readWorst }) {
  let askedAbout = "";
  return async () => {
    const missing = firstMissing(words, questions);
    if (missing) return showFault(form, missing.text, missing.culprit);
    const stops = stopsToAsk(asking, read(), readWorst());
    const answers = JSON.stringify([read(), readWorst()]);
    if (stops.length > 0 && answers !== askedAbout) {
      askedAbout = answers;
      const arm = words.list(stops.map((each) => words.say(`arm.${each}`)));
      return showFault(form, words.fill("morning.stops", { arm }), null);
    }
    find(form, "[data-fault]").hidden = true;
    const saved = await asking.save(/** @type {import("../wire.js").MorningBody["arms"]} */ (read()), readWorst()).then(
      () => true,
      () => false,
    );
    if (!saved) showFault(form, words.say("day.not_saved"), null);
  };
}

/**
 * Return the arms that these answers stop for good: no correction of a later day takes a stop away. This morning's own answer can be
 * corrected until tonight.
 * @param {Asking} asking
 * @param {Answers} answers
 * @param {Record<string, number|null>} worst of yesterday's session
 */
function stopsToAsk({ day }, answers, worst) {
  const late = day ? stoppedArms(/** @type {any} */ ({ kind: "morning_reported", body: { arms: answers } })) : [];
  const rated = Object.keys(worst).filter((arm) => Number(worst[arm] ?? 0) >= SHARP_RATING);
  return [...new Set([...late, ...rated])];
}

/** @param {ReturnType<typeof questionsOf>} questions of an arm */
const answerOf = ({ pain, sharp, besides }) => ({ pain: pain.read(), sharp: sharp.read(), ...besides.read() });

/** @param {import("../wire.js").MorningBody["arms"]} arms @returns {boolean} whether the warning signs are to be read now */
export const hasMore = (arms) => Object.values(arms).some(({ besides }) => besides);

/**
 * The draft of this day's answers; empty where there is none.
 * @param {import("../edges/storage/store.js").Store} store
 * @param {string} today
 * @returns {Promise<Answers>}
 */
export async function draftOf(store, today) {
  const draft = await store.getMeta(DRAFT);
  return draft?.on === today ? draft.answers : {};
}

/**
 * @param {import("../edges/storage/store.js").Store} store
 * @param {string} today
 * @param {Answers} answers
 */
export function keepDraft(store, today, answers) {
  return store.setMeta(DRAFT, { on: today, answers });
}

/**
 * @param {import("../edges/screen/words.js").Words} words
 * @param {string} arm
 * @param {Asking & {answers: Answers}} asking
 */
function questionsOf(words, arm, asking) {
  const answer = asking.answers[arm];
  const name = words.say(`arm.${arm}`);
  const pain = createScale(words, {
    name: `pain-${arm}`,
    legend: asking.day
      ? words.fill("morning.legend_on", { arm: name, day: asking.day })
      : words.fill("morning.legend", { arm: name }),
    value: answer?.pain,
  });
  const sharp = createYesNo({
    name: `sharp-${arm}`,
    legend: sharpLegend(words, name, asking),
    value: answer?.sharp,
  });
  return { arm, name, pain, sharp, besides: besidesOf(words, arm, asking), worst: worstOf(words, arm, asking) };
}

/**
 * After days of soreness, the question whether there is more than soreness. It may stay unanswered: it never holds up the report.
 * @param {import("../edges/screen/words.js").Words} words
 * @param {string} arm
 * @param {Asking & {answers: Answers}} asked
 * @returns {{nodes: Node[], read(): {besides?: boolean}}}
 */
function besidesOf(words, arm, { longSore = [], answers }) {
  if (!longSore.includes(arm)) return { nodes: [], read: () => ({}) };
  const legend = words.fill("morning.besides", { arm: words.say(`arm.${arm}`) });
  const question = createYesNo({ name: `besides-${arm}`, legend, value: answers[arm]?.besides });
  const read = () => {
    const besides = question.read();
    return besides === null ? {} : { besides };
  };
  return { nodes: [question.node], read };
}

/**
 * The question for a missing rating of yesterday's session. It may stay unanswered.
 * @param {import("../edges/screen/words.js").Words} words
 * @param {string} arm
 * @param {Asking & {answers: Answers}} asked
 * @returns {{nodes: Node[], read(): number|null}}
 */
function worstOf(words, arm, { unrated, answers }) {
  if (!unrated.includes(arm)) return { nodes: [], read: () => null };
  const legend = words.fill("morning.worst", { arm: words.say(`arm.${arm}`) });
  const scale = createScale(words, { name: `worst-${arm}`, legend, value: answers[arm]?.worst });
  const why = fillSlots(piece("sentence"), { text: words.say("morning.worst_why") });
  return { nodes: [scale.node, why], read: scale.read };
}

/**
 * The question about sharp pain covers the time since the last report, whichever day that was.
 * @param {import("../edges/screen/words.js").Words} words
 * @param {string} name of the arm
 * @param {Asking} asked
 */
function sharpLegend(words, name, { today, since, day }) {
  if (day) return words.fill("morning.sharp_on", { arm: name, day });
  if (!since) return words.fill("morning.sharp_first", { arm: name });
  if (since === addDays(today, -1)) return words.fill("morning.sharp", { arm: name });
  return words.fill("morning.sharp_since", { arm: name, day: words.day(since) });
}

/**
 * @param {import("../pure/dose/daybook.js").Event[]} events
 * @param {string} today
 * @returns {string|null} the day of the last morning report before today's
 */
export function lastReportBefore(events, today) {
  const reported = correctedEntries(events).filter(({ kind, on }) => kind === "morning_reported" && on < today);
  return (
    reported
      .map(({ on }) => on)
      .sort()
      .at(-1) ?? null
  );
}

/**
 * @param {import("../edges/screen/words.js").Words} words
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
