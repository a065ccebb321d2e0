// Hears when a tone begins in the signal itself, to the sample: the first sound after a stretch of silence.
const THRESHOLD = 0.002;
const SILENT_SECONDS = 0.03;

registerProcessor(
  "onset-ear",
  class extends AudioWorkletProcessor {
    #silentSince = 0;
    #isSounding = false;

    process([[samples]]) {
      const first = currentFrame;
      if (!samples) {
        this.#isSounding = false;
        return true;
      }
      for (let i = 0; i < samples.length; i += 1) this.#hear(Math.abs(samples[i]), (first + i) / sampleRate);
      return true;
    }

    #hear(level, at) {
      if (level > THRESHOLD) {
        if (!this.#isSounding) this.port.postMessage(at);
        this.#isSounding = true;
        this.#silentSince = at;
      } else if (at - this.#silentSince > SILENT_SECONDS) this.#isSounding = false;
    }
  },
);
