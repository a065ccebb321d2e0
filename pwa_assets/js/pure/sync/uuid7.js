/**
 * Ids for events, made on the phone before anything is sent: UUID version 7 (RFC 9562).
 * Time and random bytes are arguments. No code may read a date or an order from an id.
 */

/**
 * @param {number} ms milliseconds since the epoch
 * @param {Uint8Array} chance at least 10 random bytes
 * @returns {string} 36 characters of lower-case UUID text
 */
export function uuid7(ms, chance) {
  const bytes = new Uint8Array(16);
  for (let i = 0; i < 6; i += 1) bytes[i] = Math.floor(ms / 2 ** (8 * (5 - i))) % 256;
  bytes.set(chance.subarray(0, 10), 6);
  bytes[6] = 0x70 | (bytes[6] & 0x0f);
  bytes[8] = 0x80 | (bytes[8] & 0x3f);
  const hex = Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join("-");
}
