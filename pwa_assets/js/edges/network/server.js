/**
 * Requests to the server. Each is aborted after twenty seconds; an answer of another shape than expected counts as none.
 *
 * @typedef {{kind: "refused", status: number, code: string, message: string, waitSeconds: number}} Refused
 * @typedef {{kind: "silent"}} Silent
 */

import { isBelievable, isObject, refusalIn } from "../../pure/sync/reply.js";

const PATIENCE_MS = 20_000;

/** @typedef {ReturnType<typeof createServer>} Server */

export function createServer() {
  return {
    /** @param {import("../../wire.js").SyncRequest} request */
    sync: (request) => ask("/api/sync", { method: "POST", body: JSON.stringify(request) }, isBelievable),
    /** @param {string} code @param {string} deviceName @param {string} agreed the hash of the words that were agreed to */
    join: (code, deviceName, agreed) =>
      ask("/api/join", { method: "POST", body: JSON.stringify({ code, device_name: deviceName, agreed }) }, hasClient),
    code: () => ask("/api/code", { method: "POST", body: "{}" }, hasCode),
    /** @param {import("../../wire.js").FeedRequest} request */
    feed: (request) => ask("/api/feed", { method: "POST", body: JSON.stringify(request) }, hasKey),
    /** Whether the server says that no calendar has this address; false without an answer. @param {string} key */
    feedEnded: (key) =>
      fetch(`/calendar/${key}.ics`, { cache: "no-store", signal: AbortSignal.timeout(PATIENCE_MS) }).then(
        ({ status }) => status === 404,
        () => false,
      ),
    me: () => ask("/api/me", { method: "GET" }, hasClient),
    leave: () => ask("/api/leave", { method: "POST", body: "{}" }, isAnything),
  };
}

/**
 * @template T
 * @param {string} url
 * @param {RequestInit} options
 * @param {(contentType: string|null, body: unknown) => body is T} isRight
 * @returns {Promise<{kind: "answer", body: T}|Refused|Silent>}
 */
async function ask(url, options, isRight) {
  const patience = new AbortController();
  const handle = setTimeout(() => patience.abort(), PATIENCE_MS);
  try {
    const headers = {
      "Content-Type": "application/json",
      Accept: "application/json",
      "Accept-Language": document.documentElement.lang,
    };
    const response = await fetch(url, { ...options, headers, cache: "no-store", signal: patience.signal });
    const body = await response.json().catch(() => null);
    return outcomeOf(response, body, isRight);
  } catch {
    return { kind: "silent" };
  } finally {
    clearTimeout(handle);
  }
}

/**
 * @template T
 * @param {Response} response
 * @param {unknown} body
 * @param {(contentType: string|null, body: unknown) => body is T} isRight
 * @returns {{kind: "answer", body: T}|Refused|Silent}
 */
function outcomeOf(response, body, isRight) {
  const contentType = response.headers.get("Content-Type");
  if (response.ok) return isRight(contentType, body) ? { kind: "answer", body } : { kind: "silent" };
  const refusal = refusalIn(contentType, body);
  if (!refusal) return { kind: "silent" };
  const waitSeconds = Number(response.headers.get("Retry-After")) || 0;
  return { kind: "refused", status: response.status, code: refusal.code, message: refusal.message, waitSeconds };
}

/** @param {string|null} _ @param {unknown} body @returns {body is import("../../wire.js").JoinedAs} */
function hasClient(_, body) {
  return isObject(body) && isObject(body.client) && typeof body.client.id === "string";
}

/** @param {string|null} _ @param {unknown} body @returns {body is import("../../wire.js").HomeCode} */
function hasCode(_, body) {
  return isObject(body) && typeof body.code === "string" && Number(body.seconds) > 0;
}

/** @param {string|null} _ @param {unknown} body @returns {body is import("../../wire.js").FeedAddress} */
function hasKey(_, body) {
  return isObject(body) && typeof body.key === "string";
}

/** @param {string|null} _ @param {unknown} body @returns {body is unknown} */
function isAnything(_, body) {
  return body !== undefined;
}
