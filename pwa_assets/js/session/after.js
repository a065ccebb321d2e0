/**
 * After the session: a rating of each arm that worked, one line of text if wanted, what was done, and what tomorrow depends on.
 */

import * as tomorrow from "../dose/tomorrow.js";
import { fillSlots, find, onAct, piece, showFault } from "../parts/pieces.js";
import { createScale } from "../parts/scale.js";
import { armDays } from "../pure/dose/today.js";
import { accountOf, finishedBody, TakenError, workedArms } from "../pure/session/run.js";

/** @typedef {import("../pure/session/run.js").Run} Run */
/** @typedef {{arm: string, scale: import("../parts/scale.js").Scale}[]} Scales */

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @returns {() => void} stop
 */
export function start(root, edges) {
  const over = new AbortController();
  void edges.store.takeRun().then((run) => {
    if (over.signal.aborted) return;
    if (!run) return edges.go("#day");
    return workedArms(run).length ? ask(root, edges, run, over.signal) : showNothing(root, edges, over.signal);
  });
  return () => over.abort();
}

/** @param {HTMLElement} root @param {import("../main.js").Edges} edges @param {AbortSignal} signal */
function showNothing(root, { store, go }, signal) {
  root.replaceChildren(piece("after_nothing", "screen"));
  find(root, "h1").focus();
  onAct(root, "leave", () => void store.clearRun().then(() => go("#day")), signal);
}

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @param {Run} run
 * @param {AbortSignal} signal
 */
function ask(root, edges, run, signal) {
  const { words, store } = edges;
  root.replaceChildren(fillSlots(piece("after", "screen"), account(run, words)));
  const scales = workedArms(run).map((arm) => ({
    arm,
    scale: scaleOf(words, arm, run.draft.ratings[arm]),
  }));
  find(root, "[data-arms]").append(...scales.map(({ scale }) => scale.node));
  find(root, "[data-list]").append(...doneLines(run, words), ...easedLines(run, words));
  void showTomorrow(root, edges, run, signal);
  const line = /** @type {HTMLInputElement} */ (find(root, "[data-line]"));
  line.value = run.draft.note;
  const read = () => ({
    ...run,
    draft: { ratings: ratingsOf(scales), note: line.value },
  });
  const form = find(root, "form");
  form.addEventListener("input", () => void store.saveRun(read()).catch(() => undefined), { signal });
  form.addEventListener(
    "submit",
    (event) => {
      event.preventDefault();
      if (!showMissing(form, words, scales)) void keep(form, edges, read());
    },
    { signal },
  );
  onAct(root, "unrated", () => void keep(form, edges, read()), signal);
  find(root, "h1").focus();
}

/**
 * Shows 'What tomorrow depends on' as on the day page, for the arms that worked. It takes the session as done and its rating as open.
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @param {Run} run
 * @param {AbortSignal} signal
 */
async function showTomorrow(root, edges, run, signal) {
  const snapshot = await edges.store.snapshot();
  const days = daysAfter(snapshot, run).filter(({ arm, isHeldNow }) => workedArms(run).includes(arm) && !isHeldNow);
  // On a later day the session's tomorrow has come already.
  if (signal.aborted || run.on !== snapshot.today || days.length === 0) return;
  const part = find(root, '[data-part="tomorrow"]');
  tomorrow.draw(part, /** @type {any} */ ({ ...snapshot, days }), edges);
  part.hidden = false;
}

/**
 * Today's state as it will be once this session is in the log.
 * @param {Awaited<ReturnType<import("../edges/storage/store.js").Store["snapshot"]>>} snapshot
 * @param {Run} run
 * @returns {import("../pure/dose/today.js").ArmDay[]}
 */
function daysAfter({ bundle, anchors, events, today }, run) {
  const ratings = Object.fromEntries(workedArms(run).map((arm) => [arm, 0]));
  const body = finishedBody({ ...run, draft: { ...run.draft, ratings } });
  const kind = /** @type {const} */ ("session_finished");
  const own = { id: run.id, kind, v: 1, on: run.on, at: "", zone: "", seq: 1, body };
  const days = bundle ? armDays(bundle, anchors, [...events, own], today) : [];
  return days.map((day) => ({ ...day, isRating: true }));
}

/** @param {Run} run @param {import("../edges/screen/words.js").Words} words a line for each working step: its name and its outcome */
function doneLines(run, words) {
  return accountOf(run).map(({ step, outcome }) => lineOf(words, step, words.say(`after.${outcome}`)));
}

/** @param {Run} run @param {import("../edges/screen/words.js").Words} words a line for each easing */
function easedLines({ eased = [], plan }, words) {
  return eased.map(({ step, what: easing }) => lineOf(words, plan.steps[step], words.say(`ease.${easing}`)));
}

/** @param {import("../edges/screen/words.js").Words} words @param {string} arm @param {number|undefined} value */
function scaleOf(words, arm, value) {
  const legend = words.fill("after.worst", { arm: words.say(`arm.${arm}`) });
  return createScale(words, {
    name: `worst-${arm}`,
    legend,
    value: value ?? null,
  });
}

/** @param {Scales} scales @returns {Record<string, number>} */
function ratingsOf(scales) {
  return Object.fromEntries(
    scales.flatMap(({ arm, scale }) => {
      const rating = scale.read();
      return rating === null ? [] : [[arm, rating]];
    }),
  );
}

/**
 * @param {HTMLElement} form @param {import("../edges/screen/words.js").Words} words @param {Scales} scales
 * @returns {boolean} whether a rating is missing; then the form shows which
 */
function showMissing(form, words, scales) {
  const missing = scales.find(({ scale }) => scale.read() === null);
  if (!missing) return false;
  showFault(form, words.fill("after.missing", { arm: words.say(`arm.${missing.arm}`) }), missing.scale.first);
  find(form, '[data-act="unrated"]').hidden = false;
  return true;
}

/** @param {HTMLElement} form @param {import("../main.js").Edges} edges @param {Run} run */
async function keep(form, { store, clock, words, announce, go }, run) {
  const fault = await store.finishRun(run).catch((error) => error);
  if (fault instanceof TakenError) return go("#day", "taken");
  if (fault) return showFault(form, words.say("after.not_saved"), null);
  announce(words.say("after.saved"));
  go("#day", run.on === clock.today() ? "saved" : null);
}

/** @param {Run} run @param {import("../edges/screen/words.js").Words} words */
function account(run, words) {
  const body = finishedBody(run);
  const isWhole = body.done_steps === body.asked_steps;
  const ending = body.ended !== "completed" ? "after.stopped" : isWhole ? "after.completed" : "after.over";
  const hasReps = Object.values(body.arms).some(({ sets }) => sets.some(({ reps }) => reps > 0));
  const title = hasReps || body.done_steps ? ending : "after.nothing";
  return {
    title: words.say(title),
    account: words.fill("after.account", {
      done: body.done_steps,
      asked: body.asked_steps,
      length: lengthOf(body.active_seconds, words),
    }),
  };
}

/** @param {number} seconds @param {import("../edges/screen/words.js").Words} words */
function lengthOf(seconds, words) {
  return seconds < 60
    ? words.plural("after.seconds", seconds)
    : words.plural("after.minutes", Math.round(seconds / 60));
}

/** @param {import("../edges/screen/words.js").Words} words @param {import("../pure/session/run.js").Step} step @param {string} outcome */
function lineOf(words, { name, arm }, outcome) {
  return fillSlots(piece("after_line"), {
    name: words.fill("after.name", { name, arm: words.say(`arm.${arm}`) }),
    outcome,
  });
}
