/**
 * Reads every sentence for the scripts from the shell's templates; a missing template throws an error.
 * Intl formats the numbers and dates. This module holds no sentence.
 *
 * @typedef {Record<string, string|number|Node>} Gaps
 * @typedef {{has(key: string): boolean, say(key: string): string, fill(key: string, gaps: Gaps): string,
 *   plural(key: string, n: number, gaps?: Gaps): string, draw(key: string, gaps?: Gaps): DocumentFragment,
 *   number(n: number): string, list(items: string[]): string, day(on: string): string, weekday(on: string): string, date(on: string): string,
 *   instant(ms: number): string, time(ms: number): string}} Words
 */

const GAP = /\{(\w+)\}/g;
/** The digits that the server writes in every language. @type {{numberingSystem: "latn"}} */
const DIGITS = { numberingSystem: "latn" };

/**
 * @param {Document} page the document that holds the templates
 * @returns {Words}
 */
export function createWords(page) {
  const locale = page.documentElement.lang;
  const forms = once(() => new Intl.PluralRules(locale));
  const numbers = once(() => new Intl.NumberFormat(locale, DIGITS));
  const lists = once(() => new Intl.ListFormat(locale));
  /** @param {string} selector */
  const find = (selector) => {
    const found = page.querySelector(selector);
    if (!(found instanceof HTMLTemplateElement)) throw new Error(`no words at ${selector}`);
    return found.content;
  };
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
    return typeof value === "number" ? numbers().format(value) : value;
  };
  /** @param {DocumentFragment} content @param {Gaps} gaps */
  const text = (content, gaps) =>
    (content.textContent ?? "").trim().replace(GAP, (_, name) => {
      const value = gap(gaps, name);
      return value instanceof Node ? (value.textContent ?? "") : value;
    });
  return {
    has: (key) => page.querySelector(`template[data-word="${key}"]`) !== null,
    say: (key) => text(find(`template[data-word="${key}"]`), {}),
    fill: (key, gaps) => text(find(`template[data-fill="${key}"]`), gaps),
    plural: (key, n, gaps = {}) => text(form(key, n), { n, ...gaps }),
    draw: (key, gaps = {}) => draw(find(`template[data-fill="${key}"]`), (name) => gap(gaps, name)),
    number: (n) => numbers().format(n),
    list: (items) => (items.length > 1 ? lists().format(items) : items.join("")),
    ...calendar(variantOf(locale, navigator.languages ?? [])),
  };
}

/**
 * A formatter takes long to make, and the first page needs few of them: make each one when it is first used.
 * @template T
 * @param {() => T} make
 * @returns {() => T}
 */
function once(make) {
  /** @type {T|undefined} */
  let made;
  return () => {
    made ??= make();
    return made;
  };
}

/**
 * The tag for days and times: they are written as where the reader lives, if the reader's browser names a place with the
 * same language (en-GB for en). All else goes by the shell's own tag: Portuguese has other plural forms in Brazil.
 * @param {string} shell
 * @param {readonly string[]} preferred
 */
function variantOf(shell, preferred) {
  return preferred.find((tag) => tag.split("-")[0] === shell.split("-")[0]) ?? shell;
}

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

/** @param {string} locale */
function calendar(locale) {
  /** @param {Intl.DateTimeFormatOptions} options */
  const days = (options) => {
    const format = once(() => new Intl.DateTimeFormat(locale, { ...DIGITS, ...options, timeZone: "UTC" }));
    return (/** @type {string} */ on) => format().format(new Date(`${on}T12:00:00Z`));
  };
  const instants = once(() => new Intl.DateTimeFormat(locale, { ...DIGITS, dateStyle: "medium", timeStyle: "short" }));
  const times = once(() => new Intl.DateTimeFormat(locale, { ...DIGITS, timeStyle: "short" }));
  return {
    day: days({ weekday: "long", day: "numeric", month: "long" }),
    weekday: days({ weekday: "long" }),
    date: days({ day: "numeric", month: "long" }),
    instant: (/** @type {number} */ ms) => instants().format(ms),
    time: (/** @type {number} */ ms) => times().format(ms),
  };
}
