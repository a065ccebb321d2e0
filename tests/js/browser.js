/**
 * What a browser has and Node lacks: a database, and a page made of elements. Import it before the script under test.
 * The packages are in .tools/node_modules, where an import by name does not find them from here.
 */

const packages = new URL("../../.tools/node_modules/", import.meta.url);
/** @param {string} path @returns {Promise<any>} */
const load = (path) => import(new URL(path, packages).href);

/** A channel between windows that does not keep Node running. */
class Channel extends BroadcastChannel {
  constructor(/** @type {string} */ name) {
    super(name);
    /** @type {any} */ (this).unref();
  }
}

/** @param {Record<string, any>} named */
const give = (named) => {
  for (const [name, value] of Object.entries(named))
    Object.defineProperty(globalThis, name, { value, configurable: true, writable: true });
};

/** Begin with a phone whose storage is empty. */
export async function emptyPhone() {
  const { IDBFactory, IDBKeyRange } = await load("fake-indexeddb/build/esm/index.js");
  give({ indexedDB: new IDBFactory(), IDBKeyRange, BroadcastChannel: Channel });
}

/** Show a page whose body is this markup. @param {string} body @returns {Promise<HTMLElement>} its body */
export async function page(body) {
  const { Window } = await load("happy-dom/lib/index.js");
  const window = new Window({ url: "http://127.0.0.1/app/en/" });
  window.document.documentElement.lang = "en";
  window.document.body.innerHTML = body;
  const { document, navigator, HTMLElement, HTMLTemplateElement, HTMLInputElement, Node, NodeFilter } = window;
  const requestAnimationFrame = window.requestAnimationFrame.bind(window);
  give({ window, document, navigator, requestAnimationFrame });
  give({ HTMLElement, HTMLTemplateElement, HTMLInputElement, Node, NodeFilter });
  return /** @type {any} */ (document.body);
}
