/**
 * Draws a plot: one SVG element for each of its shapes. The numbers are in the table beside it, so the drawing is silent.
 */

const SVG = "http://www.w3.org/2000/svg";

/**
 * @param {import("../pure/weeks/shapes.js").Plot} plot
 * @returns {SVGElement}
 */
export function drawPlot({ width, height, shapes }) {
  const svg = make("svg", {
    class: "plot",
    viewBox: `0 0 ${width} ${height}`,
    "aria-hidden": "true",
    focusable: "false",
  });
  svg.append(
    ...shapes.map(({ tag, at, text }) => {
      const element = make(tag, at);
      if (text !== undefined) element.textContent = text;
      return element;
    }),
  );
  return svg;
}

/** @param {string} name @param {Record<string, string|number>} attributes @returns {SVGElement} */
function make(name, attributes) {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes))
    made.setAttribute(key, typeof value === "number" ? String(Math.round(value * 10) / 10) : value);
  return made;
}
