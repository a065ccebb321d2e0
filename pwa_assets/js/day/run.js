/**
 * A session that was left before its end: go on, start the step again, or finish it here. Where an arm of it is stopped, only finish it.
 */

import { fillSlots, find, onAct, piece } from "../parts/pieces.js";
import { isStopped } from "../pure/session/run.js";
import { startAtOnce } from "../session/one_tap.js";

const HASH_OF_END = /** @type {Record<string, string>} */ ({ sharp: "#sharp" });

/** @param {import("./page.js").Context} context */
export function seen({ run, today, ...known }) {
  return run && { id: run.id, step: run.step, ended: run.ended, today, isStopped: isStopped(run, known) };
}

/**
 * @param {HTMLElement} part
 * @param {import("./page.js").Context} context
 * @param {import("../main.js").Edges} edges
 * @param {AbortSignal} signal
 */
export function draw(part, context, edges, signal) {
  const { run, today } = context;
  const { words, store, go } = edges;
  const kind = kindOf(context);
  const node = piece(kind);
  const { steps } = run.plan;
  const gaps = { day: words.day(run.on), step: run.step + 1, steps: steps.length, name: steps[run.step]?.name ?? "" };
  fillSlots(part, { run: words.say(run.ended ? "run.asks" : "run.open") });
  fillSlots(node, { where: words.fill(run.on === today ? "run.where" : "run.earlier", gaps) });
  const finish = async () => {
    const taken = await store.takeRun();
    if (taken?.id !== run.id) return;
    if (!taken.ended) await store.saveRun({ ...taken, ended: "stopped", why: "interrupted" });
    go(HASH_OF_END[taken.ended] ?? "#after");
  };
  if (kind === "run_open") {
    onAct(node, "go_on", () => startAtOnce(edges, context), signal);
    onAct(node, "restart", () => startAtOnce(edges, context, "restart"), signal);
  }
  onAct(node, "finish", () => void finish(), signal);
  find(part, "[data-body]").replaceChildren(node);
}

/** @param {import("./page.js").Context} context @returns {string} the name of the piece that is shown */
function kindOf({ run, today, ...known }) {
  if (run.ended) return "run_ended";
  if (run.on !== today) return "run_earlier";
  return isStopped(run, known) ? "run_stopped" : "run_open";
}
