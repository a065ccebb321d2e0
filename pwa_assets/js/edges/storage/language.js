/**
 * The language of this page and of the phone. A phone has one language: its worker's, which the worker's address names.
 */

const SCOPE = "/app/";
/** Behind the #, which is not sent: the page has one address for the network and for the caches. */
const CHOSEN = "?chosen";

/** @returns {string} the language of this page */
export const ownLocale = () => document.documentElement.lang;

/** @returns {boolean} whether the address says that this page's language was chosen; the address then loses that word */
export function takeChoice() {
  const isChosen = location.hash.endsWith(CHOSEN);
  if (isChosen) history.replaceState(null, "", location.hash.slice(0, -CHOSEN.length));
  return isChosen;
}

/** @param {ServiceWorker} worker */
export const localeOf = ({ scriptURL }) => new URL(scriptURL).searchParams.get("locale") ?? ownLocale();

/**
 * The language that the phone has or is about to have: that of its newest worker. A window that did not choose never asks for
 * another one, or two windows would take the choice from each other.
 */
export async function phoneLocale() {
  const known = await navigator.serviceWorker.getRegistration(SCOPE);
  const newest = known?.installing ?? known?.waiting ?? known?.active;
  return newest ? localeOf(newest) : ownLocale();
}

/** @param {string} locale */
export const addressOf = (locale) => `${SCOPE}${encodeURIComponent(locale)}/`;

/** Opens the app in another language, in place of this page. @param {string} locale */
export const enter = (locale) => location.replace(`${addressOf(locale)}#day${CHOSEN}`);

/**
 * @param {ServiceWorker|null|undefined} worker
 * @param {ServiceWorker|null|undefined} active
 * @returns {boolean} whether a worker has this page's language, and the one in charge has another
 */
export const takesOver = (worker, active) =>
  Boolean(worker && active) &&
  localeOf(/** @type {ServiceWorker} */ (worker)) === ownLocale() &&
  localeOf(/** @type {ServiceWorker} */ (active)) !== ownLocale();

/** @param {ServiceWorkerRegistration} registration */
export const isForThisPage = ({ active, waiting }) => takesOver(waiting, active);

/** Whether another window has changed the phone's language, and nothing half done on this page would be lost by following it. */
export function isOfAnotherLanguage() {
  const controller = navigator.serviceWorker?.controller;
  if (!controller || localeOf(controller) === ownLocale()) return false;
  return document.body.dataset.screen === "day" && isServed(localeOf(controller));
}

/** @param {string} locale */
const isServed = (locale) => document.querySelector(`link[rel="alternate"][hreflang="${CSS.escape(locale)}"]`) !== null;
