/**
 * The landing page of an invitation: redeems the link's token or a typed code when a button is pressed, not before,
 * because programs that look through mail open links too.
 */

import { tidyCode } from "./pure/join_code.js";

const CODE_LENGTH = 8;
const WAIT_MS = 20_000;

const token = location.hash.slice(1);
if (token) history.replaceState(null, "", location.pathname);

show(token ? "invited" : "uninvited");
all("button[data-join]")[0].addEventListener("click", (event) => redeem({ token }, button(event)));
all("form[data-code]")[0].addEventListener("submit", (event) => {
  event.preventDefault();
  const code = tidyCode(
    new FormData(/** @type {HTMLFormElement} */ (event.currentTarget)).get("code")?.toString() ?? "",
  );
  if (code.length < CODE_LENGTH) tell(word("no_code"));
  else redeem({ code }, /** @type {HTMLButtonElement} */ (all("form[data-code] button")[0]));
});

/**
 * @param {{token: string} | {code: string}} invitation
 * @param {HTMLButtonElement} pressed
 */
async function redeem(invitation, pressed) {
  pressed.disabled = true;
  tell("");
  try {
    const answer = await ask({ ...invitation, device_name: deviceName() });
    if (answer.error) refuse(answer.error);
    else welcome(answer.locale);
  } catch {
    tell(word("no_network"));
  } finally {
    pressed.disabled = false;
  }
}

/** @param {object} body */
async function ask(body) {
  const response = await fetch("/api/join", {
    method: "POST",
    headers: { "Content-Type": "application/json" },
    body: JSON.stringify(body),
    signal: AbortSignal.timeout(WAIT_MS),
  });
  // A sign-in page of a hotel's network is no JSON, and throws here.
  return response.json();
}

/** @param {string} locale */
function welcome(locale) {
  all("[data-app]")[0].setAttribute("href", `/app/${encodeURIComponent(locale)}/`);
  show("joined").focus();
}

/** @param {{code: string, message: string}} error */
function refuse({ code, message }) {
  if (["unknown_link", "used", "over"].includes(code)) show("uninvited");
  tell(message);
}

/** @returns {string} what the practitioner reads beside the phone in a list */
function deviceName() {
  const agent = /** @type {any} */ (navigator).userAgentData;
  return agent?.platform || navigator.platform || "";
}

/** @param {string} part @returns {HTMLElement} */
function show(part) {
  for (const section of all("[data-part]")) section.hidden = section.dataset.part !== part;
  document.documentElement.dataset.ready = "1";
  return all(`[data-part="${part}"]`)[0];
}

/** @param {string} text */
function tell(text) {
  all("[data-problem]")[0].textContent = text;
}

/** @param {string} key */
function word(key) {
  return /** @type {HTMLTemplateElement} */ (all(`template[data-word="${key}"]`)[0]).content.textContent ?? "";
}

/** @param {Event} event */
function button(event) {
  return /** @type {HTMLButtonElement} */ (event.currentTarget);
}

/** @param {string} selector @returns {HTMLElement[]} */
function all(selector) {
  return Array.from(document.querySelectorAll(selector));
}
