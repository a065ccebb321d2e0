/**
 * The templates that the day page does not need. They come in a page of their own, so that the first page is parsed sooner.
 *
 * @typedef {{whole(): Promise<void>}} Later whole: resolved once every template is in the page; rejected where the page of
 *   templates did not come, and then the next call asks again
 */

/**
 * @param {Document} page its root element names the address
 * @returns {Later}
 */
export function createLater(page) {
  /** @type {Promise<void>|null} */
  let coming = null;
  const whole = async () => {
    const holder = await fetched(page.documentElement.dataset.later ?? "");
    page.body.append(...holder.querySelectorAll("body > template"));
  };
  return {
    whole() {
      coming ??= whole();
      coming.catch(() => {
        coming = null;
      });
      return coming;
    },
  };
}

/**
 * The browser parses the answer as a page; `fetch` would give text, which our pages never turn into elements.
 * @param {string} address
 * @returns {Promise<Document>}
 */
function fetched(address) {
  return new Promise((resolve, reject) => {
    const request = new XMLHttpRequest();
    request.open("GET", address);
    request.responseType = "document";
    request.onload = () => {
      const { status, responseXML } = request;
      if (status === 200 && responseXML) resolve(responseXML);
      else reject(new Error(`${address} answered ${status}`));
    };
    request.onerror = () => reject(new Error(`${address} did not come`));
    request.send();
  });
}
