// Listens in on a session without touching it: the tones that are asked for and those that reach the loudspeaker, what the
// page shows and when it was painted, what is written to the phone's storage, and how the clocks stand to one another.
(() => {
  const heard = { planned: [], onsets: [], clocks: [], shown: [], saved: [] };
  window.halfturnHeard = heard;
  const CLOCK_EVERY_MS = 250;
  const SLOTS = ["name", "numeral", "phase"];
  let layout = 0;

  const { start, stop } = AudioScheduledSourceNode.prototype;
  AudioScheduledSourceNode.prototype.start = function (when = 0, ...rest) {
    heard.planned.push({ at: when, layout });
    return start.call(this, when, ...rest);
  };
  AudioScheduledSourceNode.prototype.stop = function (...when) {
    // Stopped at once, a tone is taken back: the next ones belong to a new layout.
    if (when.length === 0 && heard.planned.at(-1)?.layout === layout) layout += 1;
    return stop.apply(this, when);
  };

  const { connect } = AudioNode.prototype;
  AudioNode.prototype.connect = function (next, ...rest) {
    if (next instanceof AudioDestinationNode && !(this instanceof AudioWorkletNode)) void listen(this, next);
    return connect.call(this, next, ...rest);
  };

  async function listen(node, loudspeaker) {
    await node.context.audioWorklet.addModule(await kept("/halfturn_onset_ear.js"));
    const ear = new AudioWorkletNode(node.context, "onset-ear");
    ear.port.onmessage = ({ data }) => heard.onsets.push(data);
    connect.call(node, ear);
    connect.call(ear, loudspeaker);
    setInterval(() => {
      const { contextTime, performanceTime } = node.context.getOutputTimestamp();
      heard.clocks.push({ audio: contextTime, mono: performanceTime, wallLessMono: Date.now() - performance.now() });
    }, CLOCK_EVERY_MS);
  }

  // A worklet's script is fetched past the browser's driver, but not past the app's worker, which answers from every cache.
  async function kept(address) {
    await navigator.serviceWorker.ready;
    const shelf = await caches.open("bench");
    const copy = new URL(`/assets/bench${address}`, location.href);
    await shelf.put(copy, await fetch(address));
    return copy.href;
  }

  const { put } = IDBObjectStore.prototype;
  IDBObjectStore.prototype.put = function (value, ...key) {
    if (value?.activeMs !== undefined) {
      const { step, activeMs, wallAt, ended } = value;
      const entry = { step, activeMs, wallAt, ended, keptAt: null };
      this.transaction.addEventListener("complete", () => {
        entry.keptAt = performance.now();
      });
      heard.saved.push(entry);
    }
    return put.call(this, value, ...key);
  };

  // What is written in a frame's own callback is painted with that frame; what is written between frames, with the next.
  const after = (then) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => then(performance.now());
    port2.postMessage(0);
  };
  const nextFrame = window.requestAnimationFrame.bind(window);
  let isInFrame = false;
  window.requestAnimationFrame = (draw) =>
    nextFrame((at) => {
      isInFrame = true;
      after(() => {
        isInFrame = false;
      });
      draw(at);
    });
  const painted = (then) => (isInFrame ? after(then) : nextFrame(() => after(then)));
  let last = "";
  const look = () => {
    const text = SLOTS.map((slot) => document.querySelector(`.session [data-slot="${slot}"]`)?.textContent ?? "").join("|");
    if (text === last) return;
    last = text;
    const entry = { writtenAt: performance.now(), paintedAt: null, text };
    heard.shown.push(entry);
    painted((at) => {
      entry.paintedAt = at;
    });
  };
  document.addEventListener("DOMContentLoaded", () =>
    new MutationObserver(look).observe(document.body, { childList: true, characterData: true, subtree: true }),
  );

  // The floor: a page that moves as many lines in each frame as a picture of the session has, writes one text when it is
  // due, and does nothing else.
  const LINES = 36;
  window.halfturnFloor = async (times, everyMs) => {
    const line = document.body.appendChild(document.createElement("p"));
    const picture = document.body.appendChild(document.createElementNS("http://www.w3.org/2000/svg", "svg"));
    picture.setAttribute("viewBox", "0 0 360 360");
    const paths = Array.from({ length: LINES }, () => picture.appendChild(document.createElementNS(picture.namespaceURI, "path")));
    let isOver = false;
    const move = (at) => {
      const x = (at / 10) % 200;
      paths.forEach((path, i) => {
        path.setAttribute("d", `M${x} ${i * 8}a9 9 0 1 1 90 ${i}a9 9 0 1 1 -90 ${-i}Z`);
      });
      if (!isOver) requestAnimationFrame(move);
    };
    requestAnimationFrame(move);
    const late = [];
    const began = performance.now();
    for (let count = 1; count <= times; count += 1) {
      const due = began + count * everyMs;
      await new Promise((done) => setTimeout(done, due - performance.now()));
      line.textContent = String(count);
      await new Promise((done) => painted((at) => done(late.push(at - due))));
    }
    isOver = true;
    return late;
  };
})();
