/**
 * The page that an invitation's link opens. It redeems the link's token or a typed code only when a button is pressed,
 * because programs that scan mail open links too. A phone that has joined goes straight to the app.
 */

import { tidyCode } from "../js/pure/joining/join_code.js";

const CODE_LENGTH = 8;
const WAIT_MS = 20_000;
const ONE_TAB = "halfturn-join";
// If an answer is lost, the next try with the same key takes no second place in a group.
const TRY_KEY = "halfturn-join-key";
let isEntering = false;

const token = location.hash.slice(1);
if (token) history.replaceState(null, "", location.pathname);

// A second link that is opened in this tab changes only the part after the #.
addEventListener("hashchange", () => location.reload());

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
// If the server does not answer, the page stays as it is: pressing the button is a retry.
(token ? readLink() : enterIfJoined()).catch(() => undefined);

async function readLink() {
  const answer = await ask("/api/invitation", { token });
  if (answer.error) return refuse(answer.error);
  showPractitioner(answer.practitioner);
  showWhat(answer.practitioner.name, answer.arms);
  for (const only of all("[data-of]")) only.hidden = (only.dataset.of === "group") !== answer.is_group;
  if (answer.is_joined) await enterIfJoined();
}

/**
 * What it is, who asks, for which arm, and what is agreed to, with the practitioner's own name.
 * @param {string} name
 * @param {string[]} arms none where they are not known yet
 */
function showWhat(name, arms) {
  all("[data-name]")[0].textContent = name;
  all("[data-asks]")[0].textContent = word("asks").replace("{name}", name);
  all("[data-agree]")[0].textContent = word("agree").replace("{name}", name);
  if (arms.length) all("[data-arms]")[0].textContent = word(arms.length > 1 ? "both" : arms[0]);
}

/** @param {import("../js/wire.js").PractitionerShown} practitioner without a number there is no link */
function showPractitioner({ name, telephone, hours }) {
  for (const [part, text] of Object.entries({ practitioner: name, telephone, hours }))
    all(`[data-${part}]`)[0].textContent = text;
  if (telephone) all("[data-telephone]")[0].setAttribute("href", `tel:${telephone.replace(/[^0-9+]/g, "")}`);
}

async function enterIfJoined() {
  const answer = await ask("/api/me");
  if (!answer.error) enter(answer.locale);
}

/**
 * @param {{token: string} | {code: string}} invitation
 * @param {HTMLButtonElement} pressed
 */
async function redeem(invitation, pressed) {
  pressed.disabled = true;
  tell("");
  try {
    // One tab at a time: the second tab sends the cookie that the first one got, and is let in too.
    const answer = await navigator.locks.request(ONE_TAB, () =>
      ask("/api/join", {
        ...invitation,
        device_name: deviceName(),
        agreed: all("[data-agreed]")[0].dataset.agreed,
        key: keyOfTry(),
        first_name: /** @type {HTMLInputElement} */ (all("#first-name")[0]).value,
      }),
    );
    if (answer.error) refuse(answer.error);
    else enter(answer.locale);
  } catch {
    tell(word("no_network"));
  } finally {
    pressed.disabled = false;
  }
}

/** @returns {string} the same for every try in this browser until it has joined, also after the page was loaded again */
function keyOfTry() {
  try {
    const key = localStorage.getItem(TRY_KEY) ?? [...crypto.getRandomValues(new Uint8Array(16))].join("-");
    localStorage.setItem(TRY_KEY, key);
    return key;
  } catch {
    return ""; // A browser that keeps nothing.
  }
}

/**
 * @param {string} url
 * @param {object} [body] sent by POST; without it the request is a GET
 */
async function ask(url, body) {
  const response = await fetch(url, {
    ...(body && { method: "POST", body: JSON.stringify(body) }),
    headers: { ...(body && { "Content-Type": "application/json" }), "Accept-Language": document.documentElement.lang },
    cache: "no-store",
    signal: AbortSignal.timeout(WAIT_MS),
  });
  // The sign-in page of a hotel's network is no JSON: it throws here.
  return response.json();
}

/** Opens the app in place of this page, so that the back button does not return here. @param {string} locale */
function enter(locale) {
  isEntering = true;
  forgetTry();
  const app = `/app/${encodeURIComponent(locale)}/#day?chosen`;
  all("[data-app]")[0].setAttribute("href", app);
  tell("");
  show("joined").focus();
  location.replace(app);
}

/** Somebody else may join with this phone one day, by the same link. */
function forgetTry() {
  try {
    localStorage.removeItem(TRY_KEY);
  } catch {
    // A browser that keeps nothing has nothing to forget.
  }
}

/** @param {{code: string, message: string}} error */
function refuse({ code, message }) {
  if (isEntering) return;
  if (code === "joined_to_another") show("another");
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
  const [problem] = all("[data-problem]");
  problem.textContent = text;
  problem.scrollIntoView({ block: "nearest" });
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
