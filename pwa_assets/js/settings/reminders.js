/**
 * Reminders: the times, kept on the phone, and a file for the phone's own calendar. It is made without a network.
 */

import { fillSlots, find, piece, showFault } from "../parts/pieces.js";
import { courseOn } from "../pure/dose/set_course.js";
import { calendarOf, REMINDERS } from "../pure/settings/reminders.js";
import { wireFeed } from "./feed.js";

/** @typedef {import("../pure/settings/reminders.js").Reminders} Reminders */

/** Own choice: shown until somebody has chosen. @type {Reminders["times"]} */
const FIRST_TIMES = { morning: "07:30", session: "08:00" };

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @returns {() => void} stop
 */
export function start(root, edges) {
  const over = new AbortController();
  root.replaceChildren(piece("reminders", "screen"));
  const form = find(root, "form");
  void edges.store.getMeta("reminders").then((kept) => {
    if (over.signal.aborted) return;
    for (const name of REMINDERS) fieldOf(form, name).value = (kept?.times ?? FIRST_TIMES)[name] ?? "";
  });
  void edges.store.lasting().then((lasting) => {
    const { to } = courseOn(lasting, edges.clock.today());
    if (!over.signal.aborted && to !== "training")
      fillSlots(root, { course: edges.words.say(`reminders.course.${to}`) });
  });
  const follow = wireFeed(root, edges, () => timesIn(form), over.signal);
  const make = (/** @type {SubmitEvent} */ event) => {
    event.preventDefault();
    void save(root, form, edges).then(follow);
  };
  form.addEventListener("submit", make, { signal: over.signal });
  return () => over.abort();
}

/** @param {HTMLElement} form @param {string} name @returns {HTMLInputElement} */
const fieldOf = (form, name) => /** @type {HTMLInputElement} */ (find(form, `[name=${name}]`));

/** @param {HTMLElement} form @returns {Reminders["times"]} the times that are not empty */
const timesIn = (form) =>
  Object.fromEntries(REMINDERS.map((name) => [name, fieldOf(form, name).value]).filter(([, time]) => time));

/**
 * @param {HTMLElement} root
 * @param {HTMLElement} form
 * @param {import("../main.js").Edges} edges
 */
async function save(root, form, { store, clock, words, room }) {
  const times = timesIn(form);
  if (Object.keys(times).length === 0) {
    fillSlots(root, { made: null });
    return showFault(form, words.say("reminders.none"), fieldOf(form, REMINDERS[0]));
  }
  find(form, "[data-fault]").hidden = true;
  const kept = await store.getMeta("reminders");
  /** @type {Reminders} */
  const reminders = { times, id: kept?.id ?? store.newId(), sequence: kept ? kept.sequence + 1 : 0 };
  await store.setMeta("reminders", reminders);
  const text = calendarOf(words.fill, reminders, clock.today(), new Date(clock.now()).toISOString());
  room.saveFile(words.say("reminders.file"), text, "text/calendar");
  fillSlots(root, { made: words.say("reminders.made") });
}
