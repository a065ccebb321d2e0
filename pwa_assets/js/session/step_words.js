/**
 * The words of steps that differ from the cue sheet: other reps, another weight or a smaller range.
 *
 * @typedef {import("../pure/session/timeline.js").Step} Step
 * @typedef {import("../edges/screen/words.js").Words} Words
 */

/**
 * @param {Words} words
 * @param {import("../pure/session/run.js").Plan} plan
 * @param {Record<string, {name: string}>} movements words of the bundle, by movement
 * @returns {import("../pure/session/run.js").Plan} with its changed steps worded
 */
export function worded(words, plan, movements) {
  return { ...plan, steps: plan.steps.map((step) => (step.isChanged ? wordedStep(words, step, movements) : step)) };
}

/** @param {Words} words @param {Step} step @param {Record<string, {name: string}>} movements @returns {Step} */
function wordedStep(words, step, movements) {
  const load = step.load_kg ? (step.load ?? "") : words.say("play.no_load");
  const name = movements[step.movement ?? ""]?.name ?? step.name;
  const cue = step.reps
    ? words.fill("play.cue", { name, times: words.plural("play.times", step.reps), load })
    : words.fill(step.load_kg ? "play.next_load" : "play.next", { name, load });
  const hint = step.isNarrowed && step.reps ? rangeText(words, step.range) : step.hint;
  return { ...step, cue, hint, load: step.reps || step.load_kg ? load : "" };
}

/** @param {Words} words @param {number} range 0 to 1 */
function rangeText(words, range) {
  if (range === 0.75) return words.say("range.three_quarters");
  if (range === 0.5) return words.say("range.half");
  return words.fill("range.share", { percent: Math.round(range * 100) });
}
