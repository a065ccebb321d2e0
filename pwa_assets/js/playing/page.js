/**
 * 'I am playing today': what, about how long, from when; the day around it on a ruler; the mornings after the last times. One entry, which
 * is corrected when it changes. No dose changes by it: the warm-up and the rest after it come from the day's own tables.
 */

import { drawRuler } from "../day/ruler.js";
import { fillSlots, find, onAct, piece, showFault } from "../parts/pieces.js";
import { MINUTES_A_DAY } from "../pure/calendar/local_day.js";
import { dayAround, hourOfText, isPlanned, morningsAfter, sportOn } from "../pure/playing/sport.js";
import { wayOf } from "../pure/returning/way.js";
import { offeredBy } from "../pure/session/ways.js";

/** So many mornings after sport are shown. */
const MORNINGS = 3;
const ABOUT_MINUTES = 60;

/**
 * @param {HTMLElement} root
 * @param {import("../main.js").Edges} edges
 * @returns {() => void} stop
 */
export function start(root, edges) {
  const over = new AbortController();
  root.replaceChildren(fillSlots(piece("playing", "screen"), { about: edges.words.day(edges.clock.today()) }));
  void draw(root, edges, over.signal);
  return () => over.abort();
}

/** @param {HTMLElement} root @param {import("../main.js").Edges} edges @param {AbortSignal} signal */
async function draw(root, edges, signal) {
  const { store, words } = edges;
  const [{ today, bundle, events, anchors }, plan, whole] = await Promise.all([
    store.snapshot(),
    store.todayPlan(),
    store.events(),
  ]);
  if (signal.aborted) return;
  if (!bundle) return edges.go("#day");
  find(root, "[data-way]").hidden = wayOf(anchors, today) === null;
  const mine = sportOn(events, today).filter(({ body }) => body.step === undefined);
  const form = /** @type {HTMLFormElement} */ (find(root, "form"));
  if (mine.length) fillIn(form, mine[0].body);
  const pains = morningsAfter(whole, today, MORNINGS);
  const list = words.list(pains.map((pain) => words.number(pain)));
  fillSlots(root, { mornings: pains.length ? words.plural("playing.mornings", pains.length, { list }) : null });
  const look = () => drawDay(root, answersIn(form));
  look();
  form.addEventListener("input", look, { signal });
  const submit = (/** @type {Event} */ event) => {
    event.preventDefault();
    void save(edges, form, mine, today);
  };
  form.addEventListener("submit", submit, { signal });
  find(form, '[data-act="take_back"]').hidden = mine.length === 0;
  onAct(form, "take_back", () => void keep(edges, form, mine, today, null), signal);
  const canWarm = plan !== null && offeredBy(bundle, plan).before_sport;
  find(root, "[data-warm]").hidden = !canWarm;
  onAct(root, "warm", () => void warmUp(edges, today), signal);
}

/** The form as the entry has it. @param {HTMLFormElement} form @param {import("../wire.js").ExposureBody} body */
function fillIn(form, { name = "", minutes, begins = "" }) {
  const radios = [.../** @type {NodeListOf<HTMLInputElement>} */ (form.querySelectorAll("input[type=radio]"))];
  const listed = radios.find((radio) => radio.name === "sport" && radio.value === name);
  if (listed) listed.checked = true;
  else field(form, "own").value = name;
  const long = radios.find((radio) => radio.name === "long" && radio.value === String(minutes));
  if (long) long.checked = true;
  else if (minutes) field(form, "minutes").value = String(minutes);
  field(form, "begins").value = begins;
}

/** @param {HTMLFormElement} form @param {string} name @returns {HTMLInputElement} */
const field = (form, name) => /** @type {HTMLInputElement} */ (find(form, `input[name="${name}"]:not([type=radio])`));

/** @param {HTMLFormElement} form */
function answersIn(form) {
  const chosen = (/** @type {string} */ name) =>
    /** @type {HTMLInputElement|null} */ (form.querySelector(`input[name="${name}"]:checked`))?.value ?? "";
  const minutes = Number(field(form, "minutes").value || chosen("long"));
  return { name: field(form, "own").value.trim() || chosen("sport"), minutes, begins: field(form, "begins").value };
}

/** @param {HTMLElement} root @param {ReturnType<typeof answersIn>} answers */
function drawDay(root, { minutes, begins }) {
  const marks = begins ? dayAround(hourOfText(begins), minutes || ABOUT_MINUTES) : [];
  find(root, "[data-ruler]").replaceChildren(...(marks.length ? [drawRuler(marks)] : []));
}

/**
 * @param {import("../main.js").Edges} edges
 * @param {HTMLFormElement} form
 * @param {{id: string}[]} mine
 * @param {string} today
 */
function save(edges, form, mine, today) {
  const { words, clock } = edges;
  const { name, minutes, begins } = answersIn(form);
  if (!name) return showFault(form, words.say("playing.missing"), form.querySelector("input"));
  if (!Number.isInteger(minutes) || minutes < 0 || minutes > MINUTES_A_DAY)
    return showFault(form, words.say("playing.minutes"), field(form, "minutes"));
  const planned = isPlanned(begins, clock.hourOn(today, clock.now()));
  const body = {
    what: /** @type {const} */ ("sport"),
    name,
    planned,
    ...(minutes ? { minutes } : {}),
    ...(begins ? { begins } : {}),
  };
  return keep(edges, form, mine, today, body);
}

/**
 * @param {import("../main.js").Edges} edges
 * @param {HTMLFormElement} form
 * @param {{id: string}[]} mine the entries of today's sport, which the new one takes the place of
 * @param {string} on
 * @param {import("../wire.js").ExposureBody|null} body null takes it back
 */
async function keep({ store, words, announce, go }, form, mine, on, body) {
  const kind = /** @type {const} */ ("entry_corrected");
  const fixes = mine.map(({ id }, at) => ({ kind, on, body: { replaces: id, body: at === 0 ? body : null } }));
  const drafts = mine.length || !body ? fixes : [{ kind: /** @type {const} */ ("exposure_noted"), on, body }];
  const isKept = await store.addEvents(...drafts).then(
    () => true,
    () => false,
  );
  if (!isKept) return showFault(form, words.say("day.not_saved"), null);
  announce(words.say("day.saved"));
  go("#day");
}

/** The page before the start, with the warm-up before sport chosen for this session. @param {import("../main.js").Edges} edges @param {string} on */
async function warmUp({ store, go }, on) {
  await store.setMeta("ways", { ...(await store.getMeta("ways")), part: "before_sport", on });
  go("#session");
}
