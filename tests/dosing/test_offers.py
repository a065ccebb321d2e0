"""The review's offers: made only where the rules allow one, and exact about what they would have changed."""

from dataclasses import replace
from datetime import timedelta

import pytest

from tests.dosing.spread import plan_for
from tests.vectors.reviews import START, day, idle
from webapp.dosing.course import DayFacts, follow
from webapp.dosing.findings.arm_course import ArmCourse
from webapp.dosing.offers import BY_CLINICIAN, BY_REASON, BY_TAP, CEILING, USUAL, offer_for
from webapp.dosing.plan import start_state

TOO_LOW = [day(1, 2), *[day(1, 3)] * 13]
ACHING = [day(4, 1)] * 14


def case_of(facts, plan=None, **known):
    plan = plan or plan_for()
    today = START + timedelta(len(facts))
    days = follow(plan, start_state(plan), START, {START + timedelta(n): each for n, each in enumerate(facts)}, today)
    return ArmCourse(plan, days, days[-1].state_after, today, **known)


def offered(facts, plan=None, **known):
    """What is offered, as (setting, value now, value offered, what it needs), or None."""
    offer = offer_for(case_of(facts, plan, **known))
    return offer and (offer.lever, offer.now, offer.value, offer.needs)


def test_an_ache_in_every_session_with_calm_mornings_is_offered_a_higher_ceiling():
    assert offered(ACHING) == (CEILING, 3, 4, BY_TAP)


def test_steady_mornings_over_the_usual_are_offered_a_higher_usual():
    assert offered(TOO_LOW) == (USUAL, 2, 3, BY_TAP)


@pytest.mark.parametrize("usual", [0, 1])
def test_a_usual_agreed_far_too_low_is_offered_what_the_mornings_show(usual):
    # Mornings a point apart until they are at 3, so that none of them is a flare of its own.
    rising = [day(1, 1), *[day(1, 2)] * 3, *[day(1, 3)] * 14]
    assert offered(rising, plan_for(usual=usual)) == (USUAL, usual, 3, BY_TAP)


def test_mornings_under_the_usual_are_offered_a_lower_usual():
    assert offered([day(1, 1)] * 14, plan_for(usual=3)) == (USUAL, 3, 2, BY_TAP)


def test_a_usual_of_four_needs_a_clinician():
    assert offered([day(1, 3), *[day(1, 4)] * 13], plan_for(usual=3)) == (USUAL, 3, 4, BY_CLINICIAN)


def test_a_ceiling_of_five_needs_a_reason_in_words():
    assert offered([day(5, 1)] * 14, plan_for(settled_during=4)) == (CEILING, 4, 5, BY_REASON)


def test_no_ceiling_over_the_bound_is_offered():
    # A ceiling of 4 would class no day of ache 5 better, and 6 is a flare.
    assert offered([day(5, 1)] * 14, plan_for(usual=1)) is None
    assert offered([day(6, 1)] * 14, plan_for(usual=1, settled_during=5)) is None


@pytest.mark.parametrize(
    ("facts", "lever"),
    [([day(4, 2), day(4, 2), day(1, 3)] * 5, CEILING), ([day(1, 3), day(1, 3), day(4, 2)] * 5, USUAL)],
    ids=["more aching days", "more tender days"],
)
def test_the_value_that_settles_more_days_is_the_one_offered(facts, lever):
    offer = offer_for(case_of(facts))
    assert (offer.lever, offer.settled_was, offer.settled_would_be) == (lever, 0, 9)


def test_an_offer_says_how_each_day_was_classed_and_would_have_been():
    facts = [*[day(4, 1)] * 10, day(1, 1), idle(1), day(4, 1, done="part"), day(5, 1)]
    offer = offer_for(case_of(facts))
    assert [each.was for each in offer.days[-4:]] == ["settled", "missed", "aching", "aching"]
    assert [each.would_be for each in offer.days[-4:]] == ["settled", "missed", "partly", "aching"]
    assert (offer.settled_was, offer.settled_would_be) == (1, 11)
    assert [each.on for each in offer.days] == [START + timedelta(number) for number in range(14)]


@pytest.mark.parametrize(
    ("why", "facts"),
    [
        ("nine days are too few", [day(4, 1)] * 9),
        ("a flare in the ten days", [*[day(4, 1)] * 8, day(6, 1), *[day(4, 1)] * 8]),
        ("a flare on a day without a session", [*[day(4, 1)] * 8, idle(6), *[day(4, 1)] * 8]),
        ("a sign in the ten days", [*[day(4, 1)] * 10, day(4, 1, sharp=True), *[idle(1)] * 4]),
        ("mornings that get worse", [*[day(4, 1)] * 9, *[day(4, 2)] * 5]),
        ("fewer than ten mornings", [day(4, 1), day(4, None)] * 7),
        ("days that would be classed no better", [day(None, 1)] * 14),
    ],
)
def test_no_offer_is_made_after(why, facts):
    assert offered(facts, plan_for(usual=1)) is None, why


def test_no_offer_is_made_at_the_goal():
    assert offered([day(4, 1)] * 14, plan_for(weights=(0.0,), usual=1, start_rung=6)) is None


def test_no_offer_is_made_below_a_jump_where_settled_days_change_nothing():
    assert offered([day(4, 1)] * 14, plan_for(weights=(0.0, 2.0), usual=1, start_rung=6)) is None


def test_no_offer_is_made_within_four_weeks_of_the_last_change():
    today = START + timedelta(14)
    assert offered(ACHING, agreed_since=today - timedelta(27)) is None
    assert offered(ACHING, agreed_since=today - timedelta(28)) == (CEILING, 3, 4, BY_TAP)


@pytest.mark.parametrize("now", [DayFacts(sharp=True), day(6, None)], ids=["a sign", "a flare"])
def test_no_offer_is_made_on_a_day_that_brought(now):
    assert offered(ACHING, today_facts=now) is None


@pytest.mark.parametrize(
    ("why", "facts"),
    [
        ("flared", [*[day(1, 1)] * 10, day(6, 1), *[day(1, 1)] * 3]),
        ("gets worse", [*[day(1, 1)] * 9, *[day(1, 2)] * 5]),
        ("is held", [*[day(1, 1)] * 2, day(4, 1, sharp=True), *[idle(1)] * 11]),
    ],
)
def test_no_offer_is_made_where_the_other_arm(why, facts):
    assert offer_for(case_of(ACHING), [case_of(facts)]) is None, why


def test_a_calm_other_arm_is_no_hindrance():
    assert offer_for(case_of(ACHING), [case_of([day(1, 1)] * 14)]) is not None


def test_the_classes_would_be_those_of_a_plan_with_the_offered_value():
    case = case_of(TOO_LOW)
    offer = offer_for(case)
    raised = replace(case.plan, client=replace(case.plan.client, usual=offer.value))
    days = follow(raised, start_state(raised), START, {each.on: each.facts for each in case.days}, case.today)
    assert [each.would_be for each in offer.days] == [each.response for each in days]
