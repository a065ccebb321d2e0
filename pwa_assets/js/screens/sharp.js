/**
 * Sharp pain: everything has stopped. It is put into the log before the screen says so; nothing is asked.
 */

import { fillSlots, onAct, one, piece } from "../parts/pieces.js";
import { finishedBody } from "../pure/run.js";

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @returns {() => void} stop
 */
export function start(root, edges) {
  const over = new AbortController();
  void show(root, edges, over.signal);
  return () => over.abort();
}

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @param {AbortSignal} signal
 */
async function show(root, edges, signal) {
  const { store, words, go } = edges;
  const [run, bundle] = await Promise.all([store.loadRun(), store.bundle()]);
  if (signal.aborted) return;
  if (run?.ended !== "sharp") return go("#day");
  root.replaceChildren(
    fillSlots(piece("sharp", "screen"), {
      caution: bundle?.caution ?? null,
      saved: words.say("sharp.saving"),
    }),
  );
  one(root, "h1").focus();
  const save = () => void keep(root, edges, run);
  onAct(root, "again", save, signal);
  onAct(root, "leave", () => go("#day"), signal);
  save();
}

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @param {import("../pure/run.js").Run} run
 */
async function keep(root, { store, words, announce }, run) {
  const draft = {
    id: run.id,
    kind: "session_finished",
    on: run.on,
    body: finishedBody(run),
  };
  const isSaved = await store
    .addEvent(draft)
    .then(() => store.clearRun())
    .then(
      () => true,
      () => false,
    );
  const told = isSaved
    ? words.fill("sharp.saved", { arm: words.say(`arm.${run.sharpArm}`) })
    : words.say("sharp.not_saved");
  fillSlots(root, { saved: told });
  one(root, '[data-act="again"]').hidden = isSaved;
  one(root, '[data-act="leave"]').hidden = !isSaved;
  announce(told);
}
