/**
 * Checks the shape of a sync reply before the phone uses it.
 * The sign-in page of a hotel's network has status 200 too: a reply of any other shape counts as no reply.
 */

const STATUSES = ["stored", "duplicate", "conflict", "rejected"];

/**
 * @param {string | null} contentType the answer's Content-Type
 * @param {unknown} body the parsed body, or null where it did not parse
 * @returns {body is import("../../wire.js").Reply} whether this is a complete reply of our server, in the format that we read
 */
export function isBelievable(contentType, body) {
  return (
    isJson(contentType) &&
    isObject(body) &&
    body.format === 1 &&
    typeof body.epoch === "string" &&
    Number.isInteger(body.cursor) &&
    isListOf(body.results, isResult) &&
    isListOf(body.events, isRow) &&
    typeof body.more === "boolean" &&
    (body.bundle === null || isObject(body.bundle))
  );
}

/**
 * @param {string | null} contentType
 * @param {unknown} body
 * @returns {{code: string, message: string, again: boolean} | null} the server's own refusal, or null
 */
export function refusalIn(contentType, body) {
  if (!isJson(contentType) || !isObject(body) || !isObject(body.error)) return null;
  const { code, message, again } = body.error;
  return typeof code === "string" ? { code, message: String(message ?? ""), again: again === true } : null;
}

/** @param {string | null} contentType */
function isJson(contentType) {
  return typeof contentType === "string" && /^application\/json\b/i.test(contentType);
}

/** @param {unknown} value @returns {value is Record<string, unknown>} */
export function isObject(value) {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

/**
 * @param {unknown} list
 * @param {(item: unknown) => boolean} is
 */
function isListOf(list, is) {
  return Array.isArray(list) && list.every(is);
}

/** @param {unknown} item */
function isResult(item) {
  return isObject(item) && typeof item.id === "string" && STATUSES.includes(String(item.status));
}

/** @param {unknown} item */
function isRow(item) {
  return isObject(item) && Number.isInteger(item.seq) && isObject(item.event) && typeof item.event.id === "string";
}
