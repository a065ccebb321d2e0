/**
 * The page 'This phone': entries that wait to be sent, entries that were refused, and the app itself.
 */

import { keptText } from "../day/sent.js";
import { fillSlots, find, onAct, piece } from "../parts/pieces.js";

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @returns {() => void} stop
 */
export function start(root, edges) {
  const over = new AbortController();
  root.replaceChildren(piece("about", "screen"));
  const redraw = () => void draw(root, edges, over.signal);
  onAct(root, "send", () => void edges.sync.now(), over.signal);
  onAct(root, "use_newer", edges.keeper.useNewer, over.signal);
  const stops = [edges.store.onChange(redraw), edges.sync.onChange(redraw), edges.keeper.onChange(redraw)];
  redraw();
  return () => {
    over.abort();
    for (const stop of stops) stop();
  };
}

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @param {AbortSignal} signal
 */
async function draw(root, { store, words, sync, keeper, room }, signal) {
  const isAppKept = keeper.isKept();
  const [waiting, refused, bundle, run] = await Promise.all([
    store.unsent(),
    store.refused(),
    store.bundle(),
    store.loadRun(),
  ]);
  const lastSyncAt = await store.getMeta("lastSyncAt");
  if (signal.aborted) return;
  fillSlots(root, {
    waiting: waiting.length ? words.plural("sent.waiting", waiting.length) : words.say("sent.all"),
    last: lastSyncAt ? words.fill("sent.last", { when: words.instant(lastSyncAt) }) : words.say("sent.never"),
    phase: words.say(`phase.${sync.phase()}`),
    routine: bundle
      ? words.fill("about.routine", { title: bundle.routine.title, version: bundle.routine.version })
      : words.say("about.no_routine"),
    note: bundle?.routine.note || null,
    note_of: bundle ? words.fill("note.of", { version: bundle.routine.version }) : null,
    kept: keptText({ isKept: isAppKept && Boolean(bundle) }, words),
    build: words.fill("about.build", { build: document.documentElement.dataset.build ?? "" }),
  });
  find(root, "[data-home]").hidden = room.homeWay() === "installed";
  find(root, "[data-note]").hidden = !bundle?.routine.note;
  find(root, "[data-which]").hidden = waiting.length === 0;
  find(root, "[data-waiting]").replaceChildren(...waiting.map((row) => entry(row, words)));
  find(root, "[data-refused]").hidden = refused.length === 0;
  find(root, "[data-refused] .entries").replaceChildren(...refused.map((row) => entry(row, words)));
  find(root, '[data-act="use_newer"]').hidden = !keeper.isNewerWaiting() || Boolean(run);
}

/**
 * @param {import("../edges/storage/journal.js").Row} row
 * @param {import("../edges/screen/words.js").Words} words
 */
function entry({ event, refusal }, words) {
  const kind = words.has(`kind.${event.kind}`) ? event.kind : "other";
  return fillSlots(piece("entry"), {
    what: words.say(`kind.${kind}`),
    when: words.day(event.on),
    fault: refusal ? words.fill("entry.refused", refusal) : null,
  });
}
