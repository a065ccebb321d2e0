/**
 * The phone's words with the server: one request, given up after twenty seconds, believed only in the right shape.
 *
 * @typedef {{kind: "answer", body: any} | {kind: "refused", status: number, code: string, message: string,
 *   waitSeconds: number} | {kind: "silent"}} Outcome
 */

import { isBelievable, refusalIn } from "../../pure/sync/reply.js";

const PATIENCE_MS = 20_000;

/** @typedef {ReturnType<typeof createServer>} Server */

export function createServer() {
  return {
    /** @param {any} request */
    sync: (request) => ask("/api/sync", { method: "POST", body: JSON.stringify(request) }, isBelievable),
    /** @param {string} code @param {string} deviceName */
    join: (code, deviceName) =>
      ask("/api/join", { method: "POST", body: JSON.stringify({ code, device_name: deviceName }) }, hasClient),
    code: () => ask("/api/code", { method: "POST", body: "{}" }, hasCode),
    me: () => ask("/api/me", { method: "GET" }, hasClient),
    leave: () => ask("/api/leave", { method: "POST", body: "{}" }, isAnything),
  };
}

/**
 * @param {string} url
 * @param {RequestInit} options
 * @param {(contentType: string|null, body: any) => boolean} isRight
 * @returns {Promise<Outcome>}
 */
async function ask(url, options, isRight) {
  const patience = new AbortController();
  const handle = setTimeout(() => patience.abort(), PATIENCE_MS);
  try {
    const headers = { "Content-Type": "application/json", Accept: "application/json" };
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
 * @param {Response} response
 * @param {any} body
 * @param {(contentType: string|null, body: any) => boolean} isRight
 * @returns {Outcome}
 */
function outcomeOf(response, body, isRight) {
  const contentType = response.headers.get("Content-Type");
  if (response.ok) return isRight(contentType, body) ? { kind: "answer", body } : { kind: "silent" };
  const refusal = refusalIn(contentType, body);
  if (!refusal) return { kind: "silent" };
  const waitSeconds = Number(response.headers.get("Retry-After")) || 0;
  return { kind: "refused", status: response.status, code: refusal.code, message: refusal.message, waitSeconds };
}

/** @param {string|null} _ @param {any} body */
function hasClient(_, body) {
  return typeof body?.client?.id === "string";
}

/** @param {string|null} _ @param {any} body */
function hasCode(_, body) {
  return typeof body?.code === "string" && body.seconds > 0;
}

function isAnything() {
  return true;
}
