// Stands in for the sound card, whose own clock cannot be moved: its time is the page's time, and it keeps a list of the tones:
// when each was asked for, when it begins and ends, how high and how loud it is. One taken back ends before it begins.
// As in a browser, a sound is suspended until it was asked to run, and runs only a while after that.
(() => {
  const tones = [];
  const sounds = [];
  class Level {
    value = 0;
    top = null;
    setValueAtTime() {
      return this;
    }
    linearRampToValueAtTime(value) {
      this.top = Math.max(this.top ?? 0, value);
      return this;
    }
    exponentialRampToValueAtTime() {
      return this;
    }
    setTargetAtTime() {
      return this;
    }
    cancelScheduledValues() {
      return this;
    }
    cancelAndHoldAtTime() {
      return this;
    }
  }
  class Node extends EventTarget {
    gain = new Level();
    frequency = new Level();
    detune = new Level();
    constructor(context) {
      super();
      this.context = context;
    }
    connect(next) {
      this.next = next;
      return next;
    }
    disconnect() {}
    setPeriodicWave() {}
    loudness() {
      const own = this.gain.top ?? this.gain.value;
      return own * (this.next?.loudness?.() ?? 1);
    }
    start(when = 0) {
      const asked = this.context.currentTime;
      this.tone = { at: when, asked, hertz: this.frequency.value, loudness: this.next.loudness(), ends: Infinity };
      tones.push(this.tone);
    }
    stop(when = this.context.currentTime) {
      if (this.context.currentTime < this.tone.ends) this.tone.ends = when;
    }
  }
  class Sound extends EventTarget {
    state = "suspended";
    destination = {};
    sampleRate = 48000;
    baseLatency = 0;
    outputLatency = 0;
    #born = performance.now();
    #stoodAt = 0;
    constructor() {
      super();
      sounds.push(this);
    }
    get currentTime() {
      return this.#stoodAt ?? (performance.now() - this.#born) / 1000;
    }
    #become(state) {
      if (state === "running" && this.#stoodAt !== null) this.#born = performance.now() - this.#stoodAt * 1000;
      this.#stoodAt = state === "running" ? null : this.currentTime;
      this.state = state;
      this.dispatchEvent(new Event("statechange"));
    }
    async resume() {
      await new Promise((done) => queueMicrotask(done));
      if (this.state === "suspended") this.#become("running");
    }
    async suspend() {
      this.#become("suspended");
    }
    async close() {
      this.#become("closed");
    }
    // As a telephone call does: the clock stands still, and no resume() helps while it lasts.
    interrupt() {
      this.#become("interrupted");
    }
    createOscillator() {
      return new Node(this);
    }
    createGain() {
      return new Node(this);
    }
    createConstantSource() {
      return { offset: new Level(), connect() {}, start() {} };
    }
    createPeriodicWave() {
      return {};
    }
    getOutputTimestamp() {
      return { contextTime: this.currentTime, performanceTime: performance.now() };
    }
  }
  window.AudioContext = Sound;
  window.tonesOfThisPage = tones;
  window.heardOnThisPage = () => tones.filter(({ at, ends, loudness }) => ends > at && loudness > 0);
  window.soundsOfThisPage = sounds;
})();
