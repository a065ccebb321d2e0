"""A hold, and the rungs at which an arm may start again: never above the rung at which it stopped."""

from dataclasses import replace
from datetime import timedelta
from itertools import product

import pytest

from tests.builders import days_of, enrol, morning, release, session
from tests.cast import BELL_FOUNDER, FIRST_DAY, NOW, POUND_KG
from webapp.dosing.dose import dose
from webapp.dosing.release import Return, offer, released
from webapp.events.kinds import RANGES
from webapp.library.routine import starter
from webapp.records import events, routines
from webapp.sync.case import hold
from webapp.sync.folding.fold import accounts_of
from webapp.sync.folding.review import noticed
from webapp.sync.log.diary import entries_of

RUNG = 9
STOPPED_ON = FIRST_DAY + timedelta(days=12)


def _day(number):
    return FIRST_DAY + timedelta(days=number)


def _longest_set(plan, state):
    return max(each.reps for each in dose(plan, state).sets)


@pytest.fixture
def stopped(db, hedda, send, received):
    """The bell founder, who began high on the ladder, after twelve calm days and a stop on the next day."""
    client = enrol(db, hedda.id, replace(BELL_FOUNDER, start_rung=RUNG))
    send(client, received(), *days_of(FIRST_DAY, [(4, 1)] * 12), session(STOPPED_ON, 9, seq=60))
    return client


def _account(db, client, number):
    return accounts_of(db, client.id, _day(number))["right"]


def _stand(account):
    state = account.state
    return state.mode, state.rung, state.ease


def test_a_stop_keeps_the_rung_and_the_range(db, stopped):
    assert _stand(_account(db, stopped, 13)) == ("held", RUNG, 0)


def test_the_most_that_a_release_offers_is_lower_at_three_quarter_range(db, stopped):
    account = _account(db, stopped, 13)
    first = hold.returns_of(account)[0]
    assert first == offer(account.plan, account.state)
    assert (first.rung < RUNG, first.ease) == (True, 1)


# After a week the offer is two rungs down. After two weeks it would be rung 5, half way; that rung begins shorter, so that no set
# has more reps than the offer.
@pytest.mark.parametrize(("days", "rung"), [(6, 8), (7, 7), (13, 7), (14, 5), (27, 5), (28, 1)])
def test_after_a_long_hold_the_offer_is_no_more_than_a_gap_of_as_many_days_leaves(db, stopped, days, rung):
    account = _account(db, stopped, 13 + days)
    assert hold.days_held(account) == days
    assert hold.returns_of(account)[0] == Return(rung, 1)
    offered, chosen = (
        released(account.plan, account.state, back) for back in (offer(account.plan, account.state), Return(rung, 1))
    )
    assert _longest_set(account.plan, chosen) <= _longest_set(account.plan, offered)


@pytest.mark.parametrize("chosen", list(product((1, 4, RUNG - 1, RUNG, 16, 999), (0, 1, 2))))
def test_a_release_never_gives_more_than_the_stop_had(db, stopped, chosen):
    held = _account(db, stopped, 13)
    release(db, stopped.id, "right", Return(*chosen), _day(13))
    after = _account(db, stopped, 13)
    before, now = held.plan.ladder.rung(held.state.rung), dose(after.plan, after.state)
    assert after.state.mode == "training"
    assert after.state.ease > held.state.ease
    assert now.work_j < before.work_j
    limits = (before.load_kg, before.count.reps)
    assert all(each.load_kg <= limits[0] and each.reps <= limits[1] for each in now.sets)


def test_a_choice_within_the_offer_is_taken_as_it_is(db, stopped):
    release(db, stopped.id, "right", Return(3, 2), _day(13))
    assert _stand(_account(db, stopped, 13)) == ("training", 3, 2)


@pytest.mark.parametrize(
    ("first", "other", "counts"),
    [
        (Return(8, 1), Return(3, 1), (3, 1)),
        (Return(3, 1), Return(8, 2), (3, 1)),
        (Return(7, 1), Return(7, 2), (7, 2)),
        (Return(7, 2), Return(7, 1), (7, 2)),
    ],
)
def test_of_two_releases_of_one_day_the_lower_rung_and_then_the_smaller_range_counts(db, stopped, first, other, counts):
    for chosen in (first, other):
        release(db, stopped.id, "right", chosen, _day(13))
    assert _stand(_account(db, stopped, 13)) == ("training", *counts)


@pytest.mark.parametrize("share", RANGES)
def test_a_release_on_record_names_the_range_that_was_chosen(db, stopped, share):
    chosen = Return(1, RANGES.index(share))
    release(db, stopped.id, "right", chosen, _day(13))
    [entry] = [each for each in entries_of(events.of_client(db, stopped.id)) if each.kind == "hold_released"]
    body = entry.body["arms"]["right"]
    assert (body["rung"], body["range"]) == (1, share)


PUSHES = {
    "a rung chosen higher up": {"start_rungs": {"right": 14}},
    "heavier weights alone": {"weights_kg": [round(pounds * POUND_KG, 4) for pounds in (0, 2, 4, 6)], "weights": []},
    "one weight alone": {"weights_kg": [0, 0.25], "weights": []},
    "another usual pain": {"usual": 0, "start_rungs": {}},
}


@pytest.mark.parametrize("case", PUSHES)
def test_a_routine_pushed_during_a_hold_never_raises_the_arm(db, hedda, stopped, send, received, case):
    before = _account(db, stopped, 13)
    settings = {**routines.latest(db, stopped.id).settings, **PUSHES[case]}
    routines.push(db, stopped.id, starter("wrist"), settings, "", hedda.id, NOW)
    send(stopped, received(2, _day(14), seq=901))
    after = _account(db, stopped, 15)
    assert (after.version, after.state.mode, after.state.ease) == (2, "held", 0)
    had, has = before.plan.ladder.rung(before.state.rung), after.plan.ladder.rung(after.state.rung)
    assert has.work_j <= had.work_j * (1 + 1e-9)
    assert (has.load_kg <= had.load_kg, has.count.reps <= had.count.reps) == (True, True)
    release(db, stopped.id, "right", Return(99, 0), _day(15))
    now = _account(db, stopped, 15)
    assert (now.state.mode, dose(now.plan, now.state).work_j < had.work_j) == ("training", True)


def test_seven_settled_days_are_owed_before_the_first_step_after_a_release(db, stopped, send):
    release(db, stopped.id, "right", Return(3, 1), _day(13))
    for number in range(13, 21):
        send(stopped, session(_day(number), 1, seq=2 * number + 100))
        send(stopped, morning(_day(number + 1), 1, seq=2 * number + 101))
    stands = [_stand(_account(db, stopped, number)) for number in range(13, 22)]
    assert stands[:7] == [("training", 3, 1)] * 7
    assert stands[7:] == [("training", 3, 0)] * 2


def _findings(account, today):
    return [each.finding.id for each in noticed({"right": account}, today, account.plan)]


def test_the_finding_ends_once_a_release_covers_the_stop_though_it_counts_only_from_tomorrow(db, stopped):
    assert "sharp" in _findings(_account(db, stopped, 12), _day(12))
    release(db, stopped.id, "right", Return(3, 1), _day(13))
    account = _account(db, stopped, 12)
    assert (account.released_from, "sharp" in _findings(account, _day(12))) == (_day(13), False)


def test_the_finding_is_back_once_a_report_comes_that_the_release_does_not_cover(db, stopped, send):
    release(db, stopped.id, "right", Return(3, 1), _day(13))
    send(stopped, session(STOPPED_ON, 8, seq=70))
    account = _account(db, stopped, 12)
    assert (account.released_from, "sharp" in _findings(account, _day(12))) == (None, True)
