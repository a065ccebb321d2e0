/**
 * How long to wait before a retry. The random number is an argument, so that a test can check the result.
 */

export const BASE_SECONDS = 5;
export const CAP_SECONDS = 900;

/**
 * Full jitter: a random wait between 0 and a ceiling that doubles with each failure.
 * @param {number} failures failed tries in a row, from 1
 * @param {number} chance 0 up to 1
 * @param {number} [atLeastSeconds] what the server asked for (Retry-After), 0 for nothing
 * @returns {number} milliseconds
 */
export function waitBeforeRetry(failures, chance, atLeastSeconds = 0) {
  const ceiling = Math.min(CAP_SECONDS, BASE_SECONDS * 2 ** (failures - 1));
  return Math.round(Math.max(atLeastSeconds, chance * ceiling) * 1000);
}
