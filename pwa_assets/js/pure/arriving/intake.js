/**
 * The client's answers about the arm, from the fields of the form to the body of the entry. Pure.
 *
 * @typedef {[string, string][]} Fields name and value of each field that is filled or ticked
 * @typedef {{fault: string, field: string, text?: string}} Fault the key of its sentence, and the field that it is about
 */

const MOST_KG = 50;
const ACTIVITIES = ["1", "2", "3"];

/**
 * @param {Fields} fields
 * @param {string} step that the client wants to leave
 * @returns {Fault|null} the first fault of that step
 */
export function faultIn(fields, step) {
  const { textOf, all, number } = readers(fields);
  const wrong = (/** @type {string} */ name, /** @type {number} */ most) =>
    Number.isNaN(number(name, most)) ? { fault: "intake.not_a_number", field: name, text: textOf(name) } : null;
  if (step === "where") return missing("arm", all("arm")) ?? missing("place", all("place"));
  if (step === "mornings") return missing("usual", all("usual"));
  if (step === "weights") return wrong("other_weight", MOST_KG);
  if (step === "rest") return wrong("mass_kg", 300) ?? wrong("height_cm", 300);
  const half = ACTIVITIES.find((each) => Boolean(textOf(`activity${each}`)) !== Boolean(textOf(`rating${each}`)));
  return half ? { fault: "intake.half_activity", field: `activity${half}` } : null;
}

/** @param {string} field @param {string[]} values @returns {Fault|null} */
const missing = (field, values) => (values.length ? null : { fault: "intake.missing", field });

/**
 * @param {Fields} fields without a fault in any step
 * @returns {import("../../wire.js").IntakeBody}
 */
export function bodyOf(fields) {
  const { textOf, all, number } = readers(fields);
  const named = ACTIVITIES.filter((each) => textOf(`activity${each}`));
  const weights = [...all("weight").map(Number), number("other_weight", MOST_KG) ?? 0].filter(Boolean);
  const [mass, height] = [number("mass_kg", 300), number("height_cm", 300)];
  return {
    arms: textOf("arm") === "both" ? ["right", "left"] : all("arm"),
    places: all("place"),
    usual: Number(textOf("usual")),
    activities: named.map((each) => ({ name: textOf(`activity${each}`), rating: Number(textOf(`rating${each}`)) })),
    weights_kg: [...new Set(weights)].sort((first, second) => first - second),
    sport_days: Number(textOf("sport_days")),
    other_care: all("care"),
    ...(mass && { mass_kg: mass }),
    ...(height && { height_m: height / 100 }),
  };
}

/** @param {Fields} fields */
function readers(fields) {
  const all = (/** @type {string} */ name) => fields.filter(([each]) => each === name).map(([, value]) => value);
  const textOf = (/** @type {string} */ name) => (all(name)[0] ?? "").trim();
  return {
    all,
    textOf,
    /** @param {string} name @param {number} most @returns {number|null} null where it is empty, NaN where it does not fit */
    number(name, most) {
      const text = textOf(name).replace(",", ".");
      if (!text) return null;
      const value = /^\d+(\.\d+)?$/.test(text) ? Number(text) : Number.NaN;
      return value <= most ? value : Number.NaN;
    },
  };
}
