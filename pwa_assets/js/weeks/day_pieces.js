/**
 * The parts of an earlier day: its morning, and its sessions with what they asked.
 *
 * @typedef {import("../edges/screen/words.js").Words} Words
 * @typedef {import("../pure/weeks/day_account.js").Entered} Entered
 */

import { fillSlots, find, piece } from "../parts/pieces.js";
import { fillTable } from "./tables.js";

/** @param {import("../pure/weeks/day_account.js").MorningAccount} morning @param {Words} words */
export function morningNode(morning, words) {
  const node = fillSlots(piece("earlier_morning"), { entered: enteredText(morning, words) });
  find(node, "ul").append(
    ...morning.arms.map(({ arm, pain, isSharp }) =>
      fillSlots(piece("earlier_rating"), {
        rating: words.number(pain),
        arm: words.fill(isSharp ? "earlier.morning_sharp" : "earlier.morning", { arm: words.say(`arm.${arm}`) }),
      }),
    ),
  );
  return node;
}

/**
 * @param {import("../pure/weeks/day_account.js").SessionAccount} session
 * @param {import("../wire.js").Bundle} bundle
 * @param {import("./names.js").Names} names
 * @param {Words} words
 */
export function sessionNode(session, bundle, names, words) {
  const movement = (/** @type {string} */ id) => bundle.movements[id]?.name ?? words.say("earlier.other_movement");
  const eased = session.eased.map(({ lever, movement: id }) =>
    words.fill("earlier.eased", { name: movement(id), eased: words.say(`ease.${lever}`) }),
  );
  const node = fillSlots(piece("earlier_session"), {
    title: words.fill("earlier.session_at", { time: words.time(Date.parse(session.at)) }),
    entered: enteredText(session, words),
    ended:
      session.ended === "completed" ? null : words.say(session.ended === "sharp" ? "earlier.sharp" : "earlier.stopped"),
    eased: eased.length ? words.list(eased) : null,
    note: session.note || null,
  });
  find(node, "[data-arms]").append(...session.arms.map((own) => armNode(own, movement, names, words)));
  return node;
}

/**
 * @param {import("../pure/weeks/day_account.js").ArmSession} own
 * @param {(id: string) => string} movement
 * @param {import("./names.js").Names} names
 * @param {Words} words
 */
function armNode({ arm, worst, reps, wanted, loads, rows }, movement, names, words) {
  const name = words.say(`arm.${arm}`);
  const node = fillSlots(piece("earlier_arm"), {
    reps: words.number(reps),
    did: words.fill("earlier.did", {
      arm: name,
      load: words.list(loads.map(names.load)) || words.say("earlier.nothing"),
    }),
    wanted: wanted === null ? null : words.fill("earlier.wanted", { wanted }),
    worst: worst === null ? words.say("earlier.unrated") : words.fill("earlier.worst", { worst }),
  });
  const table = {
    heads: ["movement", "did", "wanted"],
    rows: rows
      .map((row) => [
        movement(row.movement),
        words.number(row.did),
        row.wanted === null ? words.say("weeks.unknown") : words.number(row.wanted),
      ])
      .reverse(),
  };
  fillTable(find(node, "table"), table, words);
  return node;
}

/** @param {Entered} entered @param {Words} words @returns {string|null} that it was entered late, or corrected */
function enteredText({ isLate, isCorrected }, words) {
  const said = [
    ...(isLate ? [words.fill("earlier.late", { day: words.day(isLate) })] : []),
    ...(isCorrected ? [words.say("earlier.corrected")] : []),
  ];
  return said.length ? said.join(" ") : null;
}
