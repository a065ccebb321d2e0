/**
 * The repair page for an app that does not open. It deletes the cached app, never the entries.
 * It imports nothing, because the app's modules may be broken.
 */

const DATABASE = "halfturn";
const EVENTS = "events";

const rows = read();
rows
  .then(count, () => tell("unreadable"))
  .finally(() => {
    document.documentElement.dataset.ready = "1";
  });
find("[data-repair]").addEventListener("click", repair);
find("[data-save]").addEventListener("click", save);

async function repair() {
  const registrations = (await navigator.serviceWorker?.getRegistrations()) ?? [];
  await Promise.all(registrations.map((registration) => registration.unregister()));
  await Promise.all((await caches.keys()).map((name) => caches.delete(name)));
  find("[data-app]").hidden = false;
  tell("repaired");
}

async function save() {
  const kept = await rows.catch(() => null);
  if (!kept) return tell("unreadable");
  const file = new Blob([JSON.stringify(kept, null, 1)], { type: "application/json" });
  const link = document.createElement("a");
  link.href = URL.createObjectURL(file);
  link.download = "halfturn-entries.json";
  link.click();
  URL.revokeObjectURL(link.href);
  return tell("saved");
}

/** @param {any[]} kept */
function count(kept) {
  find('[data-count="all"]').textContent = String(kept.length);
  find('[data-count="unsent"]').textContent = String(kept.filter((row) => row.state === "waiting").length);
}

/** @returns {Promise<any[]>} every row of the log; none where this phone has no database */
async function read() {
  const db = await open();
  if (!db?.objectStoreNames.contains(EVENTS)) return [];
  const found = await settled(db.transaction(EVENTS).objectStore(EVENTS).getAll());
  db.close();
  return found;
}

/** Opens the database at its own version. @returns {Promise<IDBDatabase | null>} null where there is none; it is not created */
function open() {
  return new Promise((resolve, reject) => {
    const request = indexedDB.open(DATABASE);
    let isNew = false;
    request.onupgradeneeded = () => {
      isNew = true;
      request.transaction?.abort();
    };
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => (isNew ? resolve(null) : reject(request.error));
  });
}

/**
 * @param {IDBRequest<any[]>} request
 * @returns {Promise<any[]>}
 */
function settled(request) {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
}

/** @param {string} key */
function tell(key) {
  const word = /** @type {HTMLTemplateElement} */ (find(`template[data-word="${key}"]`));
  find("[data-told]").textContent = word.content.textContent;
}

/** @param {string} selector @returns {HTMLElement} */
function find(selector) {
  return /** @type {HTMLElement} */ (document.querySelector(selector));
}

export {};
