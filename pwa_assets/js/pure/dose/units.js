/**
 * Weights in the unit that a client chose to read. The words of a bundle name each weight in the unit that is written on it, and
 * that always stays to be read: whoever takes it up must find it.
 *
 * @typedef {"own"|"kg"|"lb"} Unit own: as it is written on each weight
 * @typedef {(amount: number, unit: "kg"|"lb") => string} Write
 */

/** The pound is defined so: the agreement of 1959 of six national laboratories; the server's `figures.py` names it too. */
export const KG_OF_UNIT = { kg: 1, lb: 0.45359237 };
/** An amount that somebody writes on a weight has no finer steps. Own choice. */
const STEPS = 20;
const CLOSE = 1e-6;

/**
 * @param {import("../../wire.js").Bundle} bundle
 * @param {Unit} unit
 * @param {Write} write
 * @returns {import("../../wire.js").Bundle} with other words for the weights that are not in this unit, and nothing else changed
 */
export function inUnit(bundle, unit, write) {
  if (unit === "own") return bundle;
  const texts = new Map(
    bundle.doses.flatMap(({ sets }) => sets.flatMap(({ load, load_kg }) => textIn(unit, load, load_kg, write))),
  );
  if (texts.size === 0) return bundle;
  const said = (/** @type {string} */ text) => texts.get(text) ?? text;
  const doses = bundle.doses.map((dose) => ({
    ...dose,
    sets: dose.sets.map((set) => ({ ...set, load: said(set.load) })),
  }));
  const steps = bundle.steps.map((step) => ({
    ...step,
    load: said(step.load),
    cue: step.load ? step.cue.replace(step.load, () => said(step.load)) : step.cue,
  }));
  return { ...bundle, doses, steps };
}

/**
 * @param {"kg"|"lb"} unit @param {string} load @param {number} kg @param {Write} write
 * @returns {[string, string][]} the words, and what takes their place; none where the weight is in this unit
 */
function textIn(unit, load, kg, write) {
  const amount = kg / KG_OF_UNIT[unit];
  if (kg < CLOSE || isWritten(amount)) return [];
  const text = write(amount, unit);
  return text === load ? [] : [[load, `${text} (${load})`]];
}

/**
 * @param {number} kg
 * @returns {{unit: "kg"|"lb", amount: number}} the unit in which this is written on a weight; kg where it is in neither
 */
export function writtenAs(kg) {
  const pounds = kg / KG_OF_UNIT.lb;
  return !isWritten(kg) && isWritten(pounds)
    ? { unit: "lb", amount: rounded(pounds) }
    : { unit: "kg", amount: rounded(kg) };
}

/** @param {number} amount */
const rounded = (amount) => Math.round(amount * 100) / 100;

/** @param {number} amount @returns {boolean} whether a weight may have this written on it */
const isWritten = (amount) => Math.abs(amount * STEPS - Math.round(amount * STEPS)) < CLOSE * STEPS;
