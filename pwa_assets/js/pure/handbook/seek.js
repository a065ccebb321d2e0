/**
 * Finds words in the pages of the handbook. Case and accents do not count. Pure.
 *
 * @typedef {{id: string, title: string, lines: string[]}} Leaf a page: its title and its sentences, line by line
 * @typedef {{id: string, before: string, match: string, after: string}} Place a page, and its first line with one of the words
 */

const MARKS = /\p{M}/gu;
/** So many signs of a line are shown before the word, and so many after it. */
const LEAD = 40;
const REST = 60;

/**
 * Folds a text sign by sign, so that a place in the folded text is the same place in the text.
 * @param {string} text
 * @returns {string} of the same length, without case and accents
 */
export function folded(text) {
  return Array.from(text, (sign) => {
    const plain = sign.normalize("NFD").replace(MARKS, "").toLowerCase();
    return plain.length === sign.length ? plain : sign;
  }).join("");
}

/**
 * @param {Leaf[]} leaves
 * @param {string} query
 * @returns {Place[]} the pages that hold every word of the query, in their order; none where the query holds no word
 */
export function seek(leaves, query) {
  const words = folded(query.normalize("NFC"))
    .split(/[^\p{L}\p{N}]+/u)
    .filter(Boolean);
  if (words.length === 0) return [];
  return leaves.flatMap((leaf) => {
    const lines = [leaf.title, ...leaf.lines].map((line) => line.normalize("NFC"));
    const whole = folded(lines.join("\n"));
    return words.every((word) => whole.includes(word)) ? [placeIn(leaf.id, lines, words)] : [];
  });
}

/**
 * @param {string} id
 * @param {string[]} lines
 * @param {string[]} words folded
 * @returns {Place} where the first of the words stands first; of its line about so much that it fits on a small screen
 */
function placeIn(id, lines, words) {
  const [word] = words;
  const line = lines.find((each) => folded(each).includes(word)) ?? "";
  const at = folded(line).indexOf(word);
  const space = at > LEAD ? line.indexOf(" ", at - LEAD) + 1 : 0;
  const from = Math.min(space, at);
  const cut = from > 0 ? "…" : "";
  const end = at + word.length;
  const to = line.length - end > REST ? line.lastIndexOf(" ", end + REST) : line.length;
  const after = to < line.length ? `${line.slice(end, Math.max(end, to))}…` : line.slice(end);
  return { id, before: cut + line.slice(from, at), match: line.slice(at, end), after };
}
