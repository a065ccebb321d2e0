/**
 * The letters in the phone's storage: those of the log, and the draft that is written just now.
 *
 * @typedef {{id: string, text: string}} Draft id: that of the entry which the draft becomes, so that it becomes one entry only
 * @typedef {import("./journal.js").Row} Row
 */

import { LETTER_KINDS } from "../../pure/letters/thread.js";
import { settled } from "./database.js";
import { append, rowOf } from "./journal.js";

const DRAFT = "letterDraft";

/**
 * @param {import("./database.js").Database} db
 * @param {import("../notice.js").Notice} notice
 * @param {{draft: import("./store.js").Drafting, newId(): string, said(): void}} log
 */
export function letterBoxOf(db, notice, log) {
  return {
    /** @returns {Promise<Row[]>} of letters, of what is read, and of what takes a letter back */
    letterRows: () => db.read(["events"], (tx) => letterRows(tx.objectStore("events"))),
    ...draftOf(db, notice, log.newId),
    ...sendingOf(db, log),
  };
}

/** @param {import("./database.js").Database} db @param {import("../notice.js").Notice} notice @param {() => string} newId */
function draftOf(db, notice, newId) {
  return {
    /** @returns {Promise<Draft>} the draft; an empty one where none is kept */
    letterDraft: async () =>
      (await db.read(["meta"], (tx) => settled(tx.objectStore("meta").get(DRAFT)))) ?? { id: newId(), text: "" },
    /** @param {Draft} draft */
    async keepLetterDraft(draft) {
      await db.write(["meta"], (tx) => void tx.objectStore("meta").put(draft, DRAFT));
      notice.tell();
    },
  };
}

/** @param {import("./database.js").Database} db @param {{draft: import("./store.js").Drafting, newId(): string, said(): void}} log */
function sendingOf(db, { draft: drafted, newId, said }) {
  return {
    /**
     * Makes an entry of a draft, and empties the draft. A second call with the same draft writes nothing; a draft that was sent
     * with another text, as in another window, becomes an entry of its own.
     * @param {Draft} draft @param {string} on
     */
    async sendLetter({ id, text }, on) {
      await db.write(["events", "meta"], async (tx) => {
        const sent = /** @type {any} */ (await rowOf(tx, id));
        const own = sent && sent.event.body.text !== text ? newId() : id;
        await append(tx, drafted({ kind: "letter_written", on, body: { text }, id: own }));
        tx.objectStore("meta").delete(DRAFT);
      });
      said();
    },
    /**
     * Takes back a letter that was not sent. Its text goes into the draft again, before what stands there.
     * @param {string} id @param {string} on
     * @returns {Promise<boolean>} false where it was sent meanwhile; nothing is changed then
     */
    async takeBackLetter(id, on) {
      const isBack = await db.write(["events", "meta"], async (tx) => {
        const [row, draft] = await Promise.all([rowOf(tx, id), settled(tx.objectStore("meta").get(DRAFT))]);
        if (row?.state === "sent" || row?.event.kind !== "letter_written") return false;
        await append(tx, drafted({ kind: "entry_corrected", on, body: { replaces: id, body: null } }));
        const text = [row.event.body.text, draft?.text].filter(Boolean).join("\n\n");
        tx.objectStore("meta").put({ id: newId(), text }, DRAFT);
        return true;
      });
      if (isBack) said();
      return isBack;
    },
  };
}

/** @param {IDBObjectStore} store @returns {Promise<Row[]>} */
async function letterRows(store) {
  const kinds = await Promise.all(
    LETTER_KINDS.map((kind) => settled(store.index("kind").getAll(IDBKeyRange.bound([kind], [kind, []])))),
  );
  /** @type {Row[]} */
  const rows = kinds.flat();
  const own = rows.filter(({ event }) => event.kind === "letter_written");
  const backs = await Promise.all(own.map(({ id }) => settled(store.index("replaces").getAll(id))));
  return [...rows, ...backs.flat()];
}
