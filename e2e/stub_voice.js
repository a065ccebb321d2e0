// Stands in for what a browser without a sound card lacks: the phone's own voices, its buzzing, its say over other sound.
// The voice never says that it has finished, as on some phones; the page keeps a list of all that was said and felt.
const voices = [
  { lang: "de-DE", localService: true, default: true, name: "another language" },
  { lang: "en-US", localService: false, default: false, name: "of the network" },
  { lang: "en_GB", localService: true, default: false, name: "near" },
];
const textOf = (selector) => document.querySelector(selector)?.textContent ?? "";

window.saidByThisPage = [];
window.feltOnThisPage = [];
window.vainCancels = 0;
window.cutShort = 0;

const speech = {
  speaking: false,
  looks: 0,
  getVoices() {
    this.looks += 1;
    return this.looks > 2 ? voices : [];
  },
  speak({ text, voice, volume }) {
    const entry = { text, voice: voice?.name ?? "", volume };
    window.saidByThisPage.push(entry);
    const look = () => 
      Object.assign(entry, {
        shown: textOf("#page .session-cue"),
        numeral: textOf("#page .session-numeral"),
        first: textOf("#page [data-note=first]:not([hidden])"),
      });
    setTimeout(look, 0);
  },
  cancel() {
    window.vainCancels += this.speaking ? 0 : 1;
    window.cutShort += this.speaking ? 1 : 0;
  },
};

window.SpeechSynthesisUtterance = function Utterance(text) {
  this.text = text;
};
Object.defineProperty(window, "speechSynthesis", { value: speech });
Object.defineProperty(navigator, "audioSession", { value: { type: "auto" } });
navigator.vibrate = (pattern) => window.feltOnThisPage.push(String(pattern)) > 0;
