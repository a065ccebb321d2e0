/** A fake of the sound hardware. */

const nothing = () => undefined;
const LEVEL = { setValueAtTime: nothing, linearRampToValueAtTime: nothing, setTargetAtTime: nothing, value: 0 };

/** A test sets its clock. It records what it was asked to play. */
export class Hardware extends EventTarget {
  state = "running";
  destination = {};
  outputLatency = 0;
  currentTime = 0;
  /** @type {number[]} */
  starts = [];
  /** @type {number[]} */
  hums = [];
  /** @type {{hertz: number, at: number}[]} */
  notes = [];
  /** @type {{value: number}[]} each knob that was made, the first for all that is heard */
  knobs = [];
  takenBack = 0;
  stamp = { contextTime: 0, performanceTime: 0 };

  /** @param {number} heard seconds @param {number} mono ms */
  tell(heard, mono) {
    this.currentTime = heard;
    this.stamp = { contextTime: heard, performanceTime: mono };
  }

  getOutputTimestamp() {
    return this.stamp;
  }

  resume() {
    return Promise.resolve();
  }

  close() {
    this.state = "closed";
    this.dispatchEvent(new Event("statechange"));
    return Promise.resolve();
  }

  createGain() {
    const gain = { ...LEVEL };
    this.knobs.push(gain);
    return { gain, connect: nothing };
  }

  createConstantSource() {
    const start = () => this.hums.push(source.offset.value);
    const source = { offset: { ...LEVEL }, connect: nothing, start };
    return source;
  }

  createOscillator() {
    const frequency = { ...LEVEL };
    const start = (/** @type {number} */ when) => {
      this.starts.push(when);
      this.notes.push({ hertz: frequency.value, at: when });
    };
    const stop = (/** @type {number} */ when) => {
      if (when === undefined) this.takenBack += 1;
    };
    return { frequency, connect: nothing, disconnect: nothing, start, stop };
  }
}
