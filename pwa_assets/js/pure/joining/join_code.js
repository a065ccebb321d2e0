/**
 * Tidies a typed join code: people paste it with spaces, dashes and small letters.
 */

/**
 * @param {string} typed
 * @returns {string} capital letters and digits only
 */
export function tidyCode(typed) {
  return typed
    .normalize("NFKC")
    .toUpperCase()
    .replace(/[^A-Z0-9]/g, "");
}
