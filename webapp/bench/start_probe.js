// Notes when the day's dose was painted, and how long after a tap what it asked for was painted. It changes nothing that is seen.
(() => {
  const seen = { dose: null, tapped: null, marked: 0, tap: null, session: null, startTap: null };
  seen.times = () => ({ start: seen.dose, tap: seen.tap, start_tap: seen.startTap });
  window.halfturnStart = seen;
  // Element timing tells when the browser painted an element: https://wicg.github.io/element-timing/. A second frame would come later:
  // the page draws its pictures between the two.
  new PerformanceObserver((list) => Object.assign(seen, { dose: list.getEntries()[0].renderTime })).observe({ type: "element" });
  // The second frame begins once the first is painted.
  const painted = (note) => requestAnimationFrame(() => requestAnimationFrame(() => note(performance.now())));
  addEventListener("click", ({ timeStamp }) => Object.assign(seen, { tapped: timeStamp }), true);
  const pressed = () => document.querySelector("[data-part=later] [aria-pressed=true]");
  const look = () => {
    const sets = document.querySelector("[data-part=session]:not([hidden]) .sets");
    if (seen.dose === null && sets) {
      seen.dose = 0;
      for (const part of sets.querySelectorAll("*")) part.setAttribute("elementtiming", "dose");
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
