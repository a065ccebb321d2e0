/**
 * The difference between two doses, named by the lever that moved; `now` is today's reps. The sentences for it are in the templates.
 *
 * @typedef {{kind: "same"|"rest"|"held"|"reps"|"load"|"range"|"sessions"|"whole", reps: number, load: string,
 *   range: number, sessions: number, now: number}} DoseChange
 */

/**
 * Return a text that is equal for two doses that ask the same. Stretches are left out: some more seconds are no change to report.
 * @param {import("../../wire.js").Dose} dose
 * @returns {string}
 */
export function asks(dose) {
  return JSON.stringify([dose.mode, dose.sessions, dose.sets]);
}

/**
 * @param {import("../../wire.js").Dose} from today's dose
 * @param {import("../../wire.js").Dose} to
 * @returns {DoseChange}
 */
export function doseChange(from, to) {
  const lead = to.sets[0] ?? { reps: 0, load: "", range: 1 };
  const figures = {
    reps: lead.reps,
    load: lead.load,
    range: lead.range,
    sessions: to.sessions,
    now: from.sets[0]?.reps ?? 0,
  };
  return { kind: kindOf(from, to), ...figures };
}

/**
 * @param {import("../../wire.js").Dose} from
 * @param {import("../../wire.js").Dose} to
 * @returns {DoseChange["kind"]}
 */
function kindOf(from, to) {
  if (to.mode === "held") return "held";
  if (to.mode === "resting") return "rest";
  if (from === to) return "same";
  if (from.mode !== "training") return "whole";
  const moved = leversMoved(from, to);
  if (moved.length === 0) return "same";
  if (moved.includes("sessions")) return "sessions";
  return moved.includes("load") ? "load" : /** @type {DoseChange["kind"]} */ (moved[0]);
}

/**
 * @param {import("../../wire.js").Dose} from
 * @param {import("../../wire.js").Dose} to
 * @returns {string[]}
 */
function leversMoved(from, to) {
  const levers = /** @type {const} */ (["range", "load", "reps"]).filter((lever) =>
    to.sets.some((set, index) => set[lever] !== from.sets[index]?.[lever]),
  );
  return from.sessions === to.sessions ? levers : ["sessions", ...levers];
}
