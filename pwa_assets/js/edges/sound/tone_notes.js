/**
 * What each tone sounds like.
 *
 * @typedef {import("../../pure/session/cue_times.js").Tone} Tone
 */

/** The notes of each tone: [hertz, start in seconds, length in seconds]. Up sounds high, down sounds low. */
const NOTES = /** @type {Record<Tone, [number, number, number][]>} */ ({
  step: [
    [523, 0, 0.12],
    [784, 0.13, 0.22],
  ],
  up: [[784, 0, 0.1]],
  down: [[392, 0, 0.14]],
  half: [
    [587, 0, 0.09],
    [587, 0.16, 0.09],
  ],
  tick: [[1047, 0, 0.05]],
  arm: [
    [659, 0, 0.14],
    [523, 0.16, 0.14],
    [659, 0.32, 0.14],
    [784, 0.48, 0.26],
  ],
  end: [
    [523, 0, 0.18],
    [659, 0.2, 0.18],
    [784, 0.4, 0.18],
    [1047, 0.6, 0.5],
  ],
});
const RISE = 0.008;

/**
 * Schedules the notes of a tone.
 * @param {AudioContext} context
 * @param {AudioNode} way the node to connect to
 * @param {Tone} tone
 * @param {number} when seconds on the audio clock
 * @returns {OscillatorNode[]} one for each note
 */
export function playNotes(context, way, tone, when) {
  return NOTES[tone].map(([hertz, after, length]) => playNote(context, way, [hertz, when + after, length]));
}

/** @param {AudioContext} context @param {AudioNode} way @param {[number, number, number]} note */
function playNote(context, way, [hertz, start, length]) {
  const [voice, gate] = [context.createOscillator(), context.createGain()];
  voice.frequency.value = hertz;
  voice.connect(gate);
  gate.connect(way);
  gate.gain.setValueAtTime(0, start);
  gate.gain.linearRampToValueAtTime(0.9, start + RISE);
  gate.gain.setTargetAtTime(0, start + length * 0.6, length / 4);
  voice.start(start);
  voice.stop(start + length * 2);
  return voice;
}
