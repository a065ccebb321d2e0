/**
 * A page to keep: a whole HTML file of what stands in a node. It names no address and needs no network.
 */

/**
 * @param {Node} content
 * @param {string} title
 * @returns {string} in the language of the app
 */
export function keptPage(content, title) {
  const made = document.implementation.createHTMLDocument(title);
  made.documentElement.lang = document.documentElement.lang;
  made.documentElement.dir = document.documentElement.dir;
  for (const [name, value] of Object.entries({ charset: "utf-8", viewport: "width=device-width" })) {
    const meta = made.createElement("meta");
    if (name === "charset") meta.setAttribute(name, value);
    else Object.assign(meta, { name, content: value });
    made.head.prepend(meta);
  }
  made.body.append(content);
  return new XMLSerializer().serializeToString(made);
}
