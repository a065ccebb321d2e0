import assert from "node:assert/strict";
import { test } from "node:test";
import { createTones } from "../../../pwa_assets/js/edges/sound/tones.js";
import { createVoice } from "../../../pwa_assets/js/edges/sound/voice.js";
import { PLAIN } from "../../../pwa_assets/js/pure/session/ways.js";
import { SessionSpeaker } from "../../../pwa_assets/js/session/speaker.js";
import { Hardware } from "../hardware.js";

const VOICES = [{ lang: "en-GB", localService: true, default: true, name: "near" }];
const STEP = /** @type {any} */ ({ cue: "Palm down: 10 times.", hint: "Slowly." });
Object.defineProperty(globalThis, "navigator", { value: {}, configurable: true });
Object.assign(globalThis, {
  SpeechSynthesisUtterance: class {
    /** @param {string} text */
    constructor(text) {
      this.text = text;
    }
  },
});

/** A speaker with these ways after the tap, with the real classes for tones and voice. @param {Partial<import("../../../pwa_assets/js/pure/session/ways.js").Ways>} ways */
function speaking(ways) {
  /** @type {any[]} */
  const said = [];
  /** @type {string[]} */
  const announced = [];
  const speech = {
    speaking: false,
    getVoices: () => VOICES,
    speak: (/** @type {any} */ utterance) => said.push(utterance),
  };
  const hardware = new Hardware();
  const tones = createTones(() => /** @type {any} */ (hardware));
  const voice = createVoice(
    /** @type {any} */ ({ after: () => undefined }),
    ["en-GB", "en"],
    /** @type {any} */ (speech),
  );
  const words = { number: String, say: (/** @type {string} */ key) => key, fill: (/** @type {string} */ key) => key };
  const edges = { tones, voice, words, announce: (/** @type {string} */ text) => announced.push(text) };
  voice.find();
  const speaker = new SessionSpeaker(/** @type {any} */ (edges), { ...PLAIN, ...ways });
  speaker.wake();
  tones.wake();
  speaker.tell("step", STEP);
  const aloud = said.filter(({ volume }) => volume > 0).map(({ text, volume }) => ({ text, volume }));
  return { speaker, hardware, aloud, announced, loudness: () => hardware.knobs[0].value };
}

test("the loudness that was chosen for the tones, and the one for the voice, are those that sound", () => {
  const { aloud, loudness } = speaking({ toneVolume: 0.2, voiceVolume: 0.4 });
  assert.equal(loudness(), 0.2);
  assert.deepEqual(aloud, [{ text: STEP.cue, volume: 0.4 }]);
});

test("a loudness chosen while the tones are ready already is taken up at once", () => {
  const { speaker, loudness } = speaking({ toneVolume: 0.2 });
  speaker.ways = { ...PLAIN, toneVolume: 0.9 };
  speaker.tune();
  assert.equal(loudness(), 0.9);
  speaker.ways = { ...PLAIN, speaker: "nothing" };
  speaker.tune();
  assert.equal(loudness(), 0);
});

test("who wants no sound hears neither tone nor voice", () => {
  const { aloud, announced, loudness } = speaking({ speaker: "nothing" });
  assert.deepEqual([loudness(), aloud, announced], [0, [], []]);
});

test("who wants tones alone hears them, and no voice", () => {
  const { aloud, announced, loudness } = speaking({ speaker: "tones" });
  assert.deepEqual([loudness(), aloud, announced], [PLAIN.toneVolume, [], []]);
});

test("for a screen reader the step is announced, and no voice speaks over it", () => {
  const { aloud, announced } = speaking({ speaker: "reader" });
  assert.deepEqual([aloud, announced], [[], ["play.step"]]);
});
