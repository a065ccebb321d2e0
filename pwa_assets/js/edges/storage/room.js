/**
 * What the browser gives this app on the phone: storage, an icon on the home screen, downloads and the clipboard.
 */

import { createNotice } from "../notice.js";

/**
 * @typedef {ReturnType<typeof createRoom>} Room
 * @typedef {"installed"|"prompt"|"apple"|"menu"} HomeWay how to install the app. installed: it is done; prompt: the browser asks;
 *   apple: by the share menu of Apple's browsers, whose icons may have separate storage; menu: by the browser's menu
 */

export function createRoom() {
  return {
    ...homeScreen(),
    /** @param {string} text @returns {Promise<boolean>} whether it is on the clipboard now */
    copy: async (text) =>
      (await navigator.clipboard?.writeText(text).then(
        () => true,
        () => false,
      )) === true,
    /** Ask the browser not to delete the entries by itself; it may refuse. */
    askToKeep: async () => (await navigator.storage?.persist?.()) === true,
    isKept: async () => (await navigator.storage?.persisted?.()) === true,
    /** @returns {Promise<number|null>} bytes in use, or null where the browser does not say */
    bytesUsed: async () => (await navigator.storage?.estimate?.())?.usage ?? null,
    /** Opens the browser's own question about printing. */
    print: () => window.print(),
    /** A short name for this phone, for the practitioner's list. */
    deviceName: () => /** @type {any} */ (navigator).userAgentData?.platform ?? navigator.platform ?? "",
    /**
     * @param {string} name
     * @param {string} text
     * @param {string} type its media type
     */
    saveFile(name, text, type) {
      const url = URL.createObjectURL(new Blob([text], { type }));
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
  /** The browser's install prompt, which may be shown once. @type {any} */
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
    /** Show the browser's install prompt. Must be called inside a tap. */
    askForHome() {
      const pending = question;
      question = null;
      void pending?.prompt();
      notice.tell();
    },
  };
}
