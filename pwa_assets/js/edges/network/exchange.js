/**
 * One sync: requests to the server until no entry waits and the server has nothing more to send.
 *
 * @typedef {"idle"|"busy"|"waiting"|"signed_out"|"other_client"|"refused"} Phase
 * @typedef {{phase: Phase, message: string, waitSeconds: number}} End
 */

import { MOST_EVENTS, nextBatch } from "../../pure/sync/batch.js";

const TOO_LARGE = 413;
const SIGNED_OUT = 401;
const TOO_MANY = 429;
const SERVER_FAULTS = 500;
// The server was restored from a backup: the practitioner must confirm that this phone still belongs to the client.
const TO_CONFIRM = "to_confirm";

/**
 * @param {import("../storage/store.js").Store} store
 * @param {import("../clock.js").Clock} clock
 * @param {import("./server.js").Server} server
 * @param {string} locale
 * @returns {Promise<End>}
 */
export async function exchange(store, clock, server, locale) {
  for (let most = MOST_EVENTS; ; ) {
    const waiting = await store.unsent();
    const request = await requestOf(store, clock, locale, nextBatch(waiting, most));
    const outcome = await server.sync(request);
    if (outcome.kind === "refused" && outcome.status === TOO_LARGE && most > 1) {
      most = Math.ceil(most / 2);
      continue;
    }
    if (outcome.kind !== "answer") return refusedOr(outcome, store);
    const isSettled = await take(store, clock, request, outcome.body);
    if (isSettled) return { phase: "idle", message: "", waitSeconds: 0 };
    if (isStuck(request, outcome.body)) return { phase: "waiting", message: "", waitSeconds: 0 };
  }
}

/**
 * @param {import("../storage/store.js").Store} store
 * @param {import("../clock.js").Clock} clock
 * @param {string} locale
 * @param {import("../storage/journal.js").Row[]} batch
 */
async function requestOf(store, clock, locale, batch) {
  const [client, device, epoch, cursor, bundle] = await Promise.all(
    ["client", "device", "epoch", "cursor", "bundleHash"].map(store.getMeta),
  );
  return {
    format: 1,
    client,
    device,
    epoch: epoch ?? null,
    cursor: cursor ?? 0,
    on: clock.today(),
    zone: clock.zone(),
    sent_at: new Date(clock.now()).toISOString(),
    locale,
    bundle: bundle ?? null,
    events: batch.filter((row) => row.client === client).map((row) => row.event),
  };
}

/**
 * @param {import("../storage/store.js").Store} store
 * @param {import("../clock.js").Clock} clock
 * @param {import("../../wire.js").SyncRequest} request
 * @param {import("../../wire.js").Reply} reply
 * @returns {Promise<boolean>} whether everything is sent and fetched
 */
async function take(store, clock, request, reply) {
  if (request.epoch !== null && reply.epoch !== request.epoch) {
    await store.startOver(reply.epoch);
    return false;
  }
  await store.takeReply(reply, clock.today(), clock.now());
  return !reply.more && (await store.unsent()).length === 0;
}

/**
 * Whether the reply changed nothing, so that an immediate retry would change nothing either.
 * @param {import("../../wire.js").SyncRequest} request
 * @param {import("../../wire.js").Reply} reply
 */
function isStuck(request, reply) {
  const isMoved = reply.results.some((result) => result.status !== "rejected" || !result.again);
  return reply.epoch === request.epoch && !isMoved && reply.cursor === request.cursor && reply.bundle === null;
}

/**
 * @param {import("./server.js").Refused|import("./server.js").Silent} outcome
 * @param {import("../storage/store.js").Store} store
 * @returns {Promise<End>}
 */
async function refusedOr(outcome, store) {
  if (outcome.kind === "silent") return { phase: "waiting", message: "", waitSeconds: 0 };
  const { status, code, message, waitSeconds } = outcome;
  if (code === TO_CONFIRM) await store.setMeta("link", code);
  if (status >= SERVER_FAULTS || status === TOO_MANY) return { phase: "waiting", message, waitSeconds };
  /** @type {Phase} */
  const phase = status === SIGNED_OUT ? "signed_out" : code === "another_client" ? "other_client" : "refused";
  await store.setMeta("link", phase);
  return { phase, message, waitSeconds: 0 };
}
