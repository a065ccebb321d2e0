/**
 * The room that the browser gives this app on the phone: storage, a place on the home screen, and ways out for a file or a text.
 */

import { createNotice } from "../notice.js";

/**
 * @typedef {ReturnType<typeof createRoom>} Room
 * @typedef {"installed"|"prompt"|"apple"|"menu"} HomeWay how the app comes to the home screen: it is there; the browser asks;
 *   by the share sign of Apple's browsers, whose icons may have a storage of their own; by the browser's menu
 */

export function createRoom() {
  return {
    ...homeScreen(),
    /** @param {string} text @returns {Promise<boolean>} whether it can be pasted now */
    copy: async (text) =>
      (await navigator.clipboard?.writeText(text).then(
        () => true,
        () => false,
      )) === true,
    /** Ask that the browser never clears the entries by itself; the answer may be no. */
    askToKeep: async () => (await navigator.storage?.persist?.()) === true,
    isKept: async () => (await navigator.storage?.persisted?.()) === true,
    /** @returns {Promise<number|null>} bytes in use, or null where the browser does not say */
    bytesUsed: async () => (await navigator.storage?.estimate?.())?.usage ?? null,
    /** A short name for this phone, for the practitioner's list. */
    deviceName: () => /** @type {any} */ (navigator).userAgentData?.platform ?? navigator.platform ?? "",
    /**
     * @param {string} name
     * @param {string} text
     */
    saveFile(name, text) {
      const url = URL.createObjectURL(new Blob([text], { type: "application/json" }));
      const link = document.createElement("a");
      link.href = url;
      link.download = name;
      link.click();
      setTimeout(() => URL.revokeObjectURL(url), 60_000);
    },
  };
}

function homeScreen() {
  const notice = createNotice("halfturn-room");
  /** The browser's own question, which may be put once. @type {any} */
  let question = null;
  let isPut = false;
  addEventListener("beforeinstallprompt", (event) => {
    event.preventDefault();
    question = event;
    notice.tell();
  });
  addEventListener("appinstalled", () => {
    isPut = true;
    notice.tell();
  });
  const isStandalone = () =>
    matchMedia("(display-mode: standalone)").matches || /** @type {any} */ (navigator).standalone === true;
  return {
    onChange: notice.listen,
    /** @returns {HomeWay} */
    homeWay() {
      if (isPut || isStandalone()) return "installed";
      if (question) return "prompt";
      return "standalone" in navigator ? "apple" : "menu";
    },
    /** Put the browser's question; only from a tap. */
    askForHome() {
      const pending = question;
      question = null;
      void pending?.prompt();
      notice.tell();
    },
  };
}
