/**
 * Reads every sentence for the scripts from the shell's templates; a missing template throws an error.
 * Intl formats the numbers and dates. This module holds no sentence.
 *
 * @typedef {Record<string, string|number|Node>} Gaps
 * @typedef {{has(key: string): boolean, say(key: string): string, fill(key: string, gaps: Gaps): string,
 *   plural(key: string, n: number, gaps?: Gaps): string, draw(key: string, gaps?: Gaps): DocumentFragment,
 *   number(n: number): string, list(items: string[]): string, day(on: string): string, weekday(on: string): string, date(on: string): string,
 *   instant(ms: number): string, time(ms: number): string, prepareDays(today: string): void}} Words
 */

import { calendar, DIGITS, once } from "./dates.js";

const ARM = "arm.";
const GAP = /\{(\w+)\}/g;

/**
 * @param {Document} page the document that holds the templates
 * @param {(arm: string) => string} [nameOf] the client's own name of an arm; empty for none
 * @returns {Words}
 */
export function createWords(page, nameOf = () => "") {
  const locale = page.documentElement.lang;
  const forms = once(() => new Intl.PluralRules(locale));
  const number = numbersOf(locale);
  const find = (/** @type {string} */ selector) => wordsAt(page, selector);
  /** The shell has a template for each category that the server knows; a browser may tell more apart. @param {string} key @param {number} n */
  const form = (key, n) => {
    const of = (/** @type {string} */ category) => `template[data-plural="${key}"][data-category="${category}"]`;
    const exact = of(forms().select(n));
    return find(page.querySelector(exact) ? exact : of("other"));
  };
  /** @param {Gaps} gaps @param {string} name */
  const gap = (gaps, name) => {
    if (!(name in gaps)) throw new Error(`gap ${name} was not filled`);
    const value = gaps[name];
    return typeof value === "number" ? number(value) : value;
  };
  /** @param {DocumentFragment} content @param {Gaps} gaps */
  const text = (content, gaps) => textOf(content, (name) => gap(gaps, name));
  /** The side always stays: an own name alone could be about the other arm. @param {string} key @param {string} said */
  const withName = (key, said) => {
    const name = key.startsWith(ARM) ? nameOf(key.slice(ARM.length)) : "";
    return name ? text(find('template[data-fill="arm.own"]'), { arm: said, name }) : said;
  };
  /** @param {string[]} items */
  const pair = ([first, last]) => text(find('template[data-fill="list.pair"]'), { first, last });
  return {
    has: (key) => page.querySelector(`template[data-word="${key}"]`) !== null,
    say: (key) => withName(key, text(find(`template[data-word="${key}"]`), {})),
    fill: (key, gaps) => text(find(`template[data-fill="${key}"]`), gaps),
    plural: (key, n, gaps = {}) => text(form(key, n), { n, ...gaps }),
    draw: (key, gaps = {}) => draw(find(`template[data-fill="${key}"]`), (name) => gap(gaps, name)),
    number,
    list: listsOf(locale, pair),
    ...calendar(locale, navigator.languages ?? []),
  };
}

/** @param {Document} page @param {string} selector */
function wordsAt(page, selector) {
  const found = page.querySelector(selector);
  if (!(found instanceof HTMLTemplateElement)) throw new Error(`no words at ${selector}`);
  return found.content;
}

/** @param {string} locale @param {(items: string[]) => string} pair joins two @returns {(items: string[]) => string} */
function listsOf(locale, pair) {
  const lists = once(() => new Intl.ListFormat(locale));
  return (items) => (items.length > 2 ? lists().format(items) : items.length > 1 ? pair(items) : items.join(""));
}

/** @param {string} locale @returns {(n: number) => string} */
function numbersOf(locale) {
  const numbers = once(() => new Intl.NumberFormat(locale, DIGITS));
  return (n) => (isPlain(n) ? String(n) : numbers().format(n));
}

/** Whether a number is written alike in every language with these digits: no sign, no fraction, no group. @param {number} n */
const isPlain = (n) => Number.isInteger(n) && n >= 0 && n < 1000;

/** @param {DocumentFragment} content @param {(name: string) => string|Node} gap */
const textOf = (content, gap) =>
  (content.textContent ?? "").trim().replace(GAP, (_, name) => {
    const value = gap(name);
    return value instanceof Node ? (value.textContent ?? "") : value;
  });

/**
 * A copy of a sentence with its elements; the gaps in its text nodes are filled.
 * @param {DocumentFragment} content
 * @param {(name: string) => string|Node} gap
 */
function draw(content, gap) {
  const copy = /** @type {DocumentFragment} */ (content.cloneNode(true));
  const walker = document.createTreeWalker(copy, NodeFilter.SHOW_TEXT);
  /** @type {Text[]} */
  const texts = [];
  while (walker.nextNode()) texts.push(/** @type {Text} */ (walker.currentNode));
  for (const node of texts) {
    const pieces = node.data.split(GAP).map((piece, i) => (i % 2 ? gap(piece) : piece));
    node.replaceWith(...pieces);
  }
  return copy;
}
