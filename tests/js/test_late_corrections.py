"""No correction takes a stop away but on the day on which it was said: the server and the phone, by the same logs in any order."""

import json
import random
from datetime import date, timedelta

import pytest

from tests.builders import event, morning, session, uuid7
from webapp.events.codec import decode
from webapp.sync.log.facts import sharp_entries, without_lowered_stops

DAY = timedelta(days=1)
ON = date(2026, 4, 6)
STOPPED = """async (load, { logs }) => {
  const { factsOf } = await load("pure/dose/daybook.js");
  const { SHARP_RATING } = await load("pure/dose/stops.js");
  return logs.map((log) => [...factsOf(log, "right").values()].some(({ sharp, during, morning }) =>
    sharp || during >= SHARP_RATING || morning >= SHARP_RATING));
}"""
SHARP = session(ON, 9, seq=500)
CALM = session(ON, 2, seq=500)


def fix(on, seq, body, *, at=None, replaces=SHARP["id"], number=None):
    """A correction of a session; `at` is its instant, its id by default that of its counter."""
    made = event("entry_corrected", on, {"replaces": replaces, "body": body}, seq=seq, hour=19)
    return {**made, "id": uuid7(number or seq + 1000), "at": at or made["at"]}


LOWER, HIGHER = {**SHARP["body"], "arms": CALM["body"]["arms"]}, SHARP["body"]
LOGS = {
    "on its own day": ([SHARP, fix(ON, 501, LOWER)], False),
    "withdrawn on its own day": ([SHARP, fix(ON, 501, None)], False),
    "on the next day": ([SHARP, fix(ON + DAY, 501, LOWER)], True),
    "by a name of an earlier day, after the clock was set back": ([SHARP, fix(ON - DAY, 501, LOWER)], True),
    "by the same day, with the clock set back to before it": ([SHARP, fix(ON, 501, LOWER, at=f"{ON}T09:00:00.000Z")], True),
    "by the same day's name, at an instant of a later day": (
        [SHARP, fix(ON, 501, LOWER, at=f"{ON + 3 * DAY}T09:00:00.000Z")], True,
    ),
    "by a second phone whose clock is some minutes behind": (
        [SHARP, fix(ON, 3, LOWER, at=f"{ON}T17:50:00.000Z")], False,
    ),
    "of what another phone said on a later day, with a higher counter": (
        [CALM, fix(ON + DAY, 3, HIGHER), fix(ON, 600, LOWER)], True,
    ),
    "of a stop that a first correction left as it was": (
        [SHARP, fix(ON + DAY, 501, {**HIGHER, "note": "It was the door."}), fix(ON + DAY, 502, LOWER)], True,
    ),
    "a morning, flown west over a night": (
        [morning(ON, 9, seq=500), fix(ON, 501, morning(ON, 2)["body"], at=f"{ON + DAY}T12:00:00.000Z")], False,
    ),
}  # fmt: skip


def shuffled(log, seed):
    dice = random.Random(seed)  # noqa: S311 - an order, no secret
    return dice.sample([*log, *log], 2 * len(log))


@pytest.mark.parametrize("name", LOGS)
def test_a_stop_is_taken_away_only_on_the_day_on_which_it_was_said(ask, name):
    log, is_stopped = LOGS[name]
    orders = [log, *(shuffled(log, seed) for seed in range(4))]
    on_server = [bool(sharp_entries(without_lowered_stops(map(decode, order)))) for order in orders]
    assert on_server == [is_stopped] * len(orders)
    assert ask(STOPPED, logs=orders) == on_server


def test_a_restored_server_that_lacks_the_entry_takes_the_correction_for_what_it_is_once_the_entry_comes_back(ask):
    late, entry = fix(ON + DAY, 501, LOWER), json.loads(json.dumps(SHARP))
    assert not sharp_entries(without_lowered_stops([decode(late)]))
    assert sharp_entries(without_lowered_stops([decode(late), decode(entry)]))
    assert ask(STOPPED, logs=[[late], [late, entry]]) == [False, True]
