/**
 * Which of the waiting events go into one request.
 */

export const MOST_EVENTS = 100;
export const MOST_CHARACTERS = 150_000;

/**
 * Return the first events that fit into one request. It is always at least one event, so that a large event never blocks the rest.
 * @template T
 * @param {T[]} waiting in the order in which they were made
 * @param {number} mostEvents 1 to MOST_EVENTS
 * @returns {T[]}
 */
export function nextBatch(waiting, mostEvents) {
  /** @type {T[]} */
  const batch = [];
  let characters = 0;
  for (const item of waiting.slice(0, mostEvents)) {
    characters += JSON.stringify(item).length;
    if (batch.length > 0 && characters > MOST_CHARACTERS) break;
    batch.push(item);
  }
  return batch;
}
