"""The practitioner of the forecast is offered what the review offers, client by client and day by day."""

from datetime import date, timedelta
from functools import cache

import numpy as np

from tests.forecast.people import tables
from webapp.dosing.course import DayFacts, follow
from webapp.dosing.dose import dose
from webapp.dosing.findings.arm_course import ArmCourse, has_climbed
from webapp.dosing.offers import BY_TAP, USUAL, offer_for
from webapp.dosing.plan import start_state
from webapp.dosing.responses import DONE_AXIS, NONE, PART, RESPONSES, cube_index
from webapp.forecast.offers import Review, SettingsInForce

FIRST_ON = date(2026, 3, 2)
DAYS, CLIENTS = 30, 120
# Around what is usual for a client whose usual pain was agreed as 2: mostly a point over it, sessions up to 4.
MORNINGS, SESSIONS = [None, 2, 3, 4], [None, 2, 3, 4]
CHANCES = [0.1, 0.3, 0.57, 0.03]


def _facts(rng):
    facts = {}
    # Mornings of these ratings in a row, so that some clients have five no worse than five before.
    mean = rng.choice(3)
    for day in range(DAYS):
        done = rng.choice(DONE_AXIS, p=[0.06, 0.04, 0.9])
        during = (
            None
            if done == NONE
            else SESSIONS[rng.choice(4, p=[[0.1, 0.8, 0.1, 0], [0.05, 0.1, 0.2, 0.65], CHANCES][mean])]
        )
        morning = MORNINGS[rng.choice(4, p=[CHANCES, [0.1, 0.8, 0.1, 0], [0.3, 0.1, 0.6, 0]][mean])]
        facts[FIRST_ON + timedelta(days=day)] = DayFacts(
            int(done != NONE), str(done), during, is_unrated=done != NONE and during is None, morning=morning
        )
    return facts


def _reviewed(accounts):
    """The forecast's review of one client's accounts: what it took up after the last of them."""
    known, review = tables(2), Review(1)
    settings = SettingsInForce(known.plan, 1)
    for each in accounts:
        facts, is_resting = each.facts, each.state_before.mode != "training"
        done = PART if is_resting and facts.done != NONE else facts.done
        cell = cube_index(done, facts.during, facts.morning, each.before)
        climbs = has_climbed(each, dose(known.plan, each.state_after))
        review.write(np.array([cell]), np.array([RESPONSES.index(each.response)]), np.array([climbs]))
    row = known.almanac.position(accounts[-1].state_after).row
    is_training = np.array([accounts[-1].state_after.mode == "training"])
    review.take_up(settings, known.is_below_goal[[row]], is_training)
    return int(settings.usual[0]), int(settings.ceiling[0])


def _offered(accounts, today):
    """What the review itself offers by one tap, as (usual, ceiling)."""
    plan = tables(2).plan
    usual, ceiling = plan.client.usual, plan.tuning.settled_during
    offer = offer_for(ArmCourse(plan, accounts, accounts[-1].state_after, today))
    if offer is None or offer.needs != BY_TAP or offer.value < offer.now:
        return usual, ceiling
    return (offer.value, ceiling) if offer.lever == USUAL else (usual, offer.value)


@cache
def _compared():
    rng, pairs = np.random.Generator(np.random.PCG64(19)), []
    for _ in range(CLIENTS):
        facts = _facts(rng)
        until = FIRST_ON + timedelta(days=DAYS)
        accounts = follow(tables(2).plan, start_state(tables(2).plan), FIRST_ON, facts, until)
        for days in range(12, DAYS + 1, 3):
            part = accounts[:days]
            pairs.append((_reviewed(part), _offered(part, FIRST_ON + timedelta(days=days))))
    return pairs


def test_the_forecast_takes_up_what_the_review_offers():
    assert [ours for ours, _ in _compared()] == [theirs for _, theirs in _compared()]


def test_the_clients_compared_meet_both_offers_and_none():
    assert {theirs for _, theirs in _compared()} == {(2, 3), (3, 3), (2, 4)}
