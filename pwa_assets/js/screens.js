/**
 * Every screen by its name, which is also its address behind the #.
 *
 * @typedef {{start(root: HTMLElement, edges: import("./main.js").Edges, handover: any): () => void}} Screen
 */

import * as about from "./about/page.js";
import * as intake from "./arriving/intake.js";
import * as screening from "./arriving/screening.js";
import * as day from "./day/page.js";
import * as handbook from "./handbook/page.js";
import * as home from "./joining/home.js";
import * as join from "./joining/page.js";
import * as letters from "./letters/page.js";
import * as morning from "./morning/page.js";
import * as movement from "./movement/page.js";
import * as playing from "./playing/page.js";
import * as returning from "./returning/page.js";
import * as after from "./session/after.js";
import * as session from "./session/page.js";
import * as sharp from "./session/sharp.js";
import * as settings from "./settings/page.js";
import * as reminders from "./settings/reminders.js";
import * as data from "./settings/takeout.js";
import * as warnings from "./warnings/page.js";
import * as closing from "./weeks/closing.js";
import * as earlier from "./weeks/earlier.js";
import * as weeks from "./weeks/page.js";

/** @type {Record<string, Screen>} */
export const SCREENS = {
  day,
  screening,
  intake,
  morning,
  session,
  after,
  sharp,
  home,
  join,
  warnings,
  about,
  handbook,
  movement,
  weeks,
  settings,
  reminders,
  data,
  letters,
  earlier,
  closing,
  playing,
  returning,
};
/** Screens that can be read before the phone is linked. */
export const OPEN_TO_ALL = ["join", "warnings", "about", "handbook", "movement", "settings", "data"];
