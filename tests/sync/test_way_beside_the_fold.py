"""The place on a way back is kept beside the checkpoint of the exercises, and is what the whole log gives."""

import random
from datetime import timedelta

import pytest

from tests.amount import drawn
from tests.builders import event, morning, session
from tests.cast import FIRST_DAY, NOW
from webapp.records.database import write
from webapp.sync.case.way_back import put_way, seal
from webapp.sync.folding import checkpoint
from webapp.sync.folding.returning import open_way, told_ways, way_back
from webapp.sync.phone.guidance import Asking, guide, work_out

DAYS = 60
OPENED = {"ladder": "hard_grip", "gate": [], "reason": "Calm.", "by": "Hedda"}
ACTS = {
    14: ("return_opened", 15, 1),
    34: ("return_ended", 34, 0),
    37: ("return_opened", 38, 3),
    50: ("return_opened", 50, 2),
}


def day(number):
    return FIRST_DAY + timedelta(days=number)


def told_on(dice, number):
    """What a phone says on a day: the morning, a session, now and then sport, and now and then something late."""
    said = [morning(day(number), dice.choice((1, 1, 1, 2, 3, 5)), seq=1000 + number)]
    if dice.random() < 0.8:
        said.append(session(day(number), dice.choice((1, 2, 2, 4, 6)), seq=2000 + number))
    if dice.random() < 0.4:
        body = {
            "what": "sport",
            "minutes": dice.choice((4, 5, 8)),
            "step": 1,
            "arms": {"right": {"worst": dice.choice((1, 2, 4))}},
        }
        said.append(event("exposure_noted", day(number), body, seq=3000 + number))
    if dice.random() < 0.15 and number > 12:
        said.append(session(day(number - dice.choice((2, 4, 9))), dice.choice((2, 7)), seq=4000 + number))
    return said


@pytest.mark.drawn
@pytest.mark.parametrize("seed", range(drawn(1, 6)))
def test_each_sync_finds_the_place_that_the_whole_log_gives_and_seldom_needs_it(db, ansgar, send, received, seed):
    dice = random.Random(seed)  # noqa: S311 - invented days, no secret
    send(ansgar, received())
    from_the_checkpoint = open_days = 0
    for number in range(1, DAYS):
        now = NOW + timedelta(days=number)
        if number in ACTS:
            kind, on, step = ACTS[number]
            body = {**OPENED, "step": step} if step else {"reason": "A pause.", "by": "Hedda"}
            put_way(db, ansgar.id, kind, day(on), body, seal(told_ways(db, ansgar.id)), now=now)
        send(ansgar, *told_on(dice, number))
        asking = Asking(ansgar.id, day(number), "en")
        worked = work_out(db, asking, now)
        start = min(anchor.on for anchor in worked.anchors.values()) - timedelta(days=1)
        whole = way_back(db, ansgar.id, start, opened_by=day(number))
        kept = worked.way
        assert (kept is None) == (whole is None) == (open_way(db, ansgar.id, day(number)) is None)
        if kept:
            open_days += 1
            assert (kept.opened, kept.on, kept.state, kept.is_clear, kept.is_held) == (
                whole.opened, whole.on, whole.state, whole.is_clear, whole.is_held,
            )  # fmt: skip
            from_the_checkpoint += checkpoint.way_from(worked.resumed, kept.opened, start) is not None
        guide(db, asking, None, now)
    assert open_days > 35
    assert from_the_checkpoint == open_days


def test_a_way_back_that_the_checkpoint_does_not_know_is_folded_from_the_whole_log(db, ansgar, send, received):
    send(ansgar, received(), *(morning(day(number), 1, seq=number) for number in range(1, 30)))
    late = checkpoint.resume(db, ansgar.id, day(25))
    with write(db):
        checkpoint.keep(db, ansgar.id, late)
    body = {**OPENED, "step": 1}
    put_way(db, ansgar.id, "return_opened", day(24), body, seal(told_ways(db, ansgar.id)), now=NOW)
    opened = open_way(db, ansgar.id, day(29))
    assert checkpoint.way_from(checkpoint.resume(db, ansgar.id, day(25)), opened, day(25)) is None
