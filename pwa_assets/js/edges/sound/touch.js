/**
 * Tones that can be felt, on phones that can. A bonus: it may be switched off by the phone without anybody being told.
 *
 * @typedef {import("../../pure/session/cue_times.js").Tone} Tone
 * @typedef {{isThere(): boolean, buzz(tone: Tone): void}} Touch
 */

/** Each tone: milliseconds of buzzing and of stillness by turns. */
const PATTERNS = /** @type {Record<Tone, number[]>} */ ({
  step: [60, 60, 140],
  up: [35],
  down: [90],
  half: [40, 80, 40],
  tick: [20],
  arm: [60, 60, 60, 60, 60, 60, 200],
  end: [250, 100, 250, 100, 400],
});

/** @returns {Touch} */
export function createTouch() {
  return {
    isThere: () => "vibrate" in navigator && matchMedia("(pointer: coarse)").matches,
    buzz: (tone) => void navigator.vibrate?.(PATTERNS[tone]),
  };
}
