/**
 * How a client wants weights and arms to be called on this phone. It is kept in the browser, where it is read before the first page is
 * drawn, and changes no entry and no dose.
 *
 * @typedef {{unit: import("../../pure/dose/units.js").Unit, right: string, left: string}} Naming right, left: own names; empty for none
 * @typedef {ReturnType<typeof createNaming>} NamingEdge
 */

import { inUnit } from "../../pure/dose/units.js";
import { DIGITS } from "./dates.js";

const KEY = "halfturn-naming";
/** A form's limit, the same in the settings' page: a name must fit beside the arm's own word. */
const LONGEST = 20;
/** @type {Naming} */
const PLAIN = { unit: "own", right: "", left: "" };
const UNITS = { kg: "kilogram", lb: "pound" };

/** @param {string} locale by which amounts are written */
export function createNaming(locale) {
  /** @type {import("../../pure/dose/units.js").Write} */
  const write = (amount, unit) =>
    new Intl.NumberFormat(locale, {
      ...DIGITS,
      style: "unit",
      unit: UNITS[unit],
      maximumFractionDigits: 2,
    }).format(amount);
  return {
    chosen: chosenNaming,
    unit: () => chosenNaming().unit,
    /** @param {string} arm @returns {string} the client's own name; empty for none */
    nameOf: (arm) => (arm === "right" || arm === "left" ? chosenNaming()[arm] : ""),
    /** @param {Naming} naming @returns {boolean} whether the browser keeps it */
    choose(naming) {
      try {
        localStorage.setItem(KEY, JSON.stringify(naming));
        return true;
      } catch {
        return false;
      }
    },
    forget() {
      try {
        localStorage.removeItem(KEY);
      } catch {
        // A browser that keeps nothing has nothing to forget.
      }
    },
    /** @param {import("../../wire.js").Bundle} bundle */
    said: (bundle) => inUnit(bundle, chosenNaming().unit, write),
  };
}

/** @returns {Naming} */
function chosenNaming() {
  try {
    const kept = JSON.parse(localStorage.getItem(KEY) ?? "{}");
    const unit = ["kg", "lb"].includes(kept.unit) ? kept.unit : PLAIN.unit;
    return { unit, right: short(kept.right), left: short(kept.left) };
  } catch {
    return PLAIN;
  }
}

/** @param {unknown} name @returns {string} */
const short = (name) => (typeof name === "string" ? name.trim().slice(0, LONGEST) : "");
