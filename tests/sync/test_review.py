"""The review of a folded log: since when the agreed values hold, and which offers there are."""

from datetime import timedelta

import pytest

from tests.builders import days_of, event, session
from tests.cast import FIRST_DAY, NOW
from webapp.records import routines
from webapp.sync.bundle.plans import plan_of
from webapp.sync.folding.fold import accounts_of
from webapp.sync.folding.review import noticed, offers_of, seal

DAYS = 14
TODAY = FIRST_DAY + timedelta(days=DAYS)


def _push(db, client, usual, **tuning):
    newest = routines.latest(db, client.id)
    routine = {**newest.routine, "tuning": {**newest.routine["tuning"], **tuning}}
    return routines.push(db, client.id, routine, {**newest.settings, "usual": usual}, "", 1, NOW)


def _received(version, on):
    return event("routine_received", on, {"version": version, "bundle": ""}, seq=900 + version)


def _offers(db, client, today=TODAY):
    return offers_of(accounts_of(db, client.id, today), today, plan_of(routines.latest(db, client.id)))


def _agreed_since(db, client):
    return accounts_of(db, client.id, TODAY)["right"].agreed_since


def test_the_first_version_is_no_change(db, ansgar, send, received):
    send(ansgar, received())
    assert _agreed_since(db, ansgar) is None


@pytest.mark.parametrize(
    ("usual", "tuning", "changed"),
    [(3, {}, True), (2, {"settled_during": 4}, True), (2, {"climb_days": 4}, False)],
    ids=["usual", "ceiling", "neither"],
)
def test_a_change_of_the_usual_or_the_ceiling_counts_from_the_day_it_was_received(
    db, ansgar, send, received, usual, tuning, changed
):
    _push(db, ansgar, usual, **tuning)
    on = FIRST_DAY + timedelta(days=5)
    send(ansgar, received(), _received(2, on))
    assert _agreed_since(db, ansgar) == (on if changed else None)


def test_two_versions_received_on_the_first_day_are_no_change(db, ansgar, send, received):
    _push(db, ansgar, 3)
    send(ansgar, received(), _received(2, FIRST_DAY))
    assert _agreed_since(db, ansgar) is None


def test_nothing_is_offered_while_another_value_is_on_its_way(db, ansgar, send, received):
    send(ansgar, received(), *days_of(FIRST_DAY, [(4, 1)] * DAYS))
    assert _offers(db, ansgar).keys() == {"right"}
    _push(db, ansgar, 2, climb_days=4)
    assert _offers(db, ansgar).keys() == {"right"}
    _push(db, ansgar, 2, settled_during=4)
    assert _offers(db, ansgar) == {}


def test_an_offer_stands_below_the_finding_that_it_is_about(db, ansgar, send, received):
    send(ansgar, received(), *days_of(FIRST_DAY, [(1, 2), *[(1, 3)] * (DAYS - 1)]))
    newest = plan_of(routines.latest(db, ansgar.id))
    found = noticed(accounts_of(db, ansgar.id, TODAY), TODAY, newest)
    assert [each.finding.id for each in found if each.offer] == ["usual-too-low"]


def test_an_offer_has_another_seal_once_a_day_is_classed_otherwise(db, ansgar, send, received):
    send(ansgar, received(), *days_of(FIRST_DAY, [(4, 1)] * DAYS))
    before = seal(_offers(db, ansgar)["right"])
    assert seal(_offers(db, ansgar)["right"]) == before
    send(ansgar, session(FIRST_DAY + timedelta(days=1), 5, seq=800))
    assert seal(_offers(db, ansgar)["right"]) != before


def test_a_value_that_counts_for_both_arms_is_not_offered_while_one_of_them_flares(db, mirela, send, received):
    both, calm = ("right", "left"), [(4, 1)] * DAYS
    send(mirela, received(), *days_of(FIRST_DAY, calm, arms=both))
    assert _offers(db, mirela).keys() == {"right", "left"}
    send(mirela, session(FIRST_DAY + timedelta(days=10), 6, arms=("left",), seq=800))
    assert _offers(db, mirela) == {}
