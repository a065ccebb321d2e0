// Notes, without touching anything, when the day's dose was painted, and how long after a tap what it asked for was painted.
(() => {
  const seen = { dose: null, tapped: null, marked: 0, tap: null, session: null, startTap: null };
  seen.times = () => ({ start: seen.dose, tap: seen.tap, start_tap: seen.startTap });
  window.halfturnStart = seen;
  // The second frame begins once the first is painted.
  const painted = (note) => requestAnimationFrame(() => requestAnimationFrame(() => note(performance.now())));
  addEventListener("click", ({ timeStamp }) => Object.assign(seen, { tapped: timeStamp }), true);
  const pressed = () => document.querySelector("[data-part=later] [aria-pressed=true]");
  const look = () => {
    if (seen.dose === null && document.querySelector("[data-part=session]:not([hidden]) .sets")) {
      seen.dose = 0;
      painted((at) => Object.assign(seen, { dose: at }));
    }
    if (seen.marked === 0 && pressed()) {
      seen.marked = 0.5;
      painted((at) => Object.assign(seen, { tap: at - seen.tapped, marked: 1 }));
    }
    if (seen.marked === 1 && !pressed()) seen.marked = 2;
    if (seen.session === null && document.querySelector(".session[data-status]")) {
      seen.session = 0;
      painted((at) => Object.assign(seen, { startTap: at - seen.tapped, session: 1 }));
    }
  };
  new MutationObserver(look).observe(document, { childList: true, subtree: true, attributes: true });
})();
