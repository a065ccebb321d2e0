import assert from "node:assert/strict";
import { test } from "node:test";
import { pickVoice } from "../../../../pwa_assets/js/edges/sound/voice.js";

const TAGS = ["de-DE", "en-GB", "en"];

/** @param {string} lang @param {object} [other] */
const voice = (lang, other = {}) => ({ lang, localService: true, default: false, voiceURI: "", name: lang, ...other });

/** @param {SpeechSynthesisVoice[]} voices */
const picked = (...voices) => pickVoice(voices, TAGS)?.name ?? null;

test("a voice is of the reader's own variety of the language, however the phone writes it", () => {
  assert.equal(picked(voice("en-US"), voice("en_GB")), "en_GB");
});

test("where there is none of it, the phone's own choice of the language speaks", () => {
  assert.equal(picked(voice("en-AU"), voice("en-US", { default: true })), "en-US");
});

test("a voice that needs the network never speaks", () => {
  const far = voice("en-GB", { localService: false });
  assert.equal(picked(far, voice("en-US")), "en-US");
  assert.equal(picked(far), null);
});

test("no voice reads words of another language", () => {
  assert.equal(picked(voice("de-DE", { default: true })), null);
  assert.equal(picked(), null);
});
