/**
 * How the pages look on this phone: the light, and the size of the words. It is chosen on the phone and kept in the browser, where
 * it is read before the first page is drawn.
 *
 * @typedef {{theme: "phone"|"light"|"dark", text: "phone"|"larger"}} Look phone: as the phone itself has it
 * @typedef {{chosen(): Look, choose(look: Look): boolean}} LookEdge choose: returns whether the browser keeps the choice
 */

const KEY = "halfturn-look";
/** @type {Look} */
const PLAIN = { theme: "phone", text: "phone" };
/** Own choice: a step that is seen at once, and leaves two columns side by side on a small phone. */
const LARGER = "125%";
const NIGHT = /prefers-color-scheme:\s*dark/;
const DAY_OR_NIGHT = /prefers-color-scheme/;
const ALWAYS = "all";
const NEVER = "(max-width: 0px)";
/** What each condition was before a choice. @type {WeakMap<object, string>} */
const WRITTEN = new WeakMap();

/** @param {Document} page @returns {LookEdge} */
export function createLook(page) {
  return { chosen: chosenLook, choose: (look) => chooseLook(page, look) };
}

/** @returns {Look} */
export function chosenLook() {
  try {
    const kept = JSON.parse(localStorage.getItem(KEY) ?? "{}");
    const theme = ["light", "dark"].includes(kept.theme) ? kept.theme : PLAIN.theme;
    return { theme, text: kept.text === "larger" ? "larger" : PLAIN.text };
  } catch {
    return PLAIN;
  }
}

/**
 * @param {Document} page
 * @param {Look} look
 * @returns {boolean} whether the browser keeps the choice
 */
export function chooseLook(page, look) {
  applyLook(page, look);
  try {
    localStorage.setItem(KEY, JSON.stringify(look));
    return true;
  } catch {
    return false;
  }
}

/**
 * Colours are written once, for day and for night, and the sheet asks the phone which of them to use. A choice answers in its place.
 * @param {Document} page
 * @param {Look} [look]
 */
export function applyLook(page, look = chosenLook()) {
  const { style } = page.documentElement;
  // What was not set here stays: a reader may have set a size on the page.
  if (look.text === "larger" || style.fontSize === LARGER) style.fontSize = look.text === "larger" ? LARGER : "";
  // Reading every rule takes a slow phone a tenth of a second, so a phone that has chosen nothing is spared it.
  if (look.theme === "phone" && !style.colorScheme) return;
  style.colorScheme = look.theme === "phone" ? "" : look.theme;
  const rules = [...page.styleSheets].flatMap((sheet) => /** @type {any[]} */ ([...sheet.cssRules]));
  for (const { media } of rules) if (media) answer(media, "mediaText", look.theme);
  for (const meta of /** @type {NodeListOf<HTMLMetaElement>} */ (page.querySelectorAll("meta[media]")))
    answer(meta, "media", look.theme);
}

/** @param {any} asker @param {string} key of its condition @param {Look["theme"]} theme */
function answer(asker, key, theme) {
  const written = WRITTEN.get(asker) ?? asker[key];
  if (!DAY_OR_NIGHT.test(written)) return;
  WRITTEN.set(asker, written);
  const isMet = NIGHT.test(written) === (theme === "dark");
  asker[key] = theme === "phone" ? written : isMet ? ALWAYS : NEVER;
}
