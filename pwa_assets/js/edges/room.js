/**
 * The room that the browser gives this app on the phone, and getting a file out of it.
 */

/** @typedef {ReturnType<typeof createRoom>} Room */

export function createRoom() {
  return {
    /** Ask that the browser never clears the entries by itself; the answer may be no. */
    askToKeep: async () => (await navigator.storage?.persist?.()) === true,
    isKept: async () => (await navigator.storage?.persisted?.()) === true,
    /** @returns {Promise<number|null>} bytes in use, or null where the browser does not say */
    bytesUsed: async () => (await navigator.storage?.estimate?.())?.usage ?? null,
    isInstalled: () =>
      matchMedia("(display-mode: standalone)").matches || /** @type {any} */ (navigator).standalone === true,
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
