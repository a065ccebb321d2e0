// Stands in for the sound card, whose own clock cannot be moved: its time is the page's time, and it keeps a list of the tones.
(() => {
  const tones = [];
  class Level {
    value = 0;
    setValueAtTime() { return this; }
    linearRampToValueAtTime() { return this; }
    exponentialRampToValueAtTime() { return this; }
    setTargetAtTime() { return this; }
    cancelScheduledValues() { return this; }
    cancelAndHoldAtTime() { return this; }
  }
  class Node extends EventTarget {
    gain = new Level();
    frequency = new Level();
    detune = new Level();
    constructor(context) { super(); this.context = context; }
    connect(next) { return next; }
    disconnect() {}
    setPeriodicWave() {}
    start(when = 0) { tones.push({ at: when, asked: this.context.currentTime }); }
    stop() {}
  }
  class Sound extends EventTarget {
    state = "running";
    destination = {};
    sampleRate = 48000;
    baseLatency = 0;
    outputLatency = 0;
    #born = performance.now();
    get currentTime() { return (performance.now() - this.#born) / 1000; }
    async resume() { this.state = "running"; }
    async suspend() { this.state = "suspended"; }
    async close() { this.state = "closed"; }
    createOscillator() { return new Node(this); }
    createGain() { return new Node(this); }
    createPeriodicWave() { return {}; }
    getOutputTimestamp() { return { contextTime: this.currentTime, performanceTime: performance.now() }; }
  }
  window.AudioContext = Sound;
  window.tonesOfThisPage = tones;
})();
