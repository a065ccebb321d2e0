// Stands in for the sound card, whose own clock cannot be moved: its time is the page's time, and it keeps a list of the tones.
(() => {
  const tones = [];
  const sounds = [];
  class Level {
    value = 0;
    setValueAtTime() {
      return this;
    }
    linearRampToValueAtTime() {
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
      return next;
    }
    disconnect() {}
    setPeriodicWave() {}
    start(when = 0) {
      tones.push({ at: when, asked: this.context.currentTime, hertz: this.frequency.value });
    }
    stop() {}
  }
  class Sound extends EventTarget {
    state = "running";
    destination = {};
    sampleRate = 48000;
    baseLatency = 0;
    outputLatency = 0;
    #born = performance.now();
    #stoodAt = null;
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
  window.soundsOfThisPage = sounds;
})();
