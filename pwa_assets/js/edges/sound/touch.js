/**
 * Tones that can be felt, on phones that vibrate. Nothing may depend on it: the phone may have vibration off and not say so.
 *
 * @typedef {import("../../pure/session/cue_times.js").Tone} Tone
 * @typedef {{isThere(): boolean, buzz(tone: Tone): void}} Touch
 */

/** The pattern of each tone: milliseconds of vibration and of pause in turn. */
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
