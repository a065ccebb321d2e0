"""The run of days: no diary, however odd, upsets it, and what it says hangs together."""

from datetime import date, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.dosing.spread import fixed_plans, plan_for
from webapp.dosing.course import DayFacts, follow
from webapp.dosing.plan import start_state
from webapp.dosing.responses import RESPONSES
from webapp.dosing.state import State

START = date(2026, 3, 2)
ratings = st.none() | st.integers(0, 10)
facts = st.builds(DayFacts, st.integers(0, 6), ratings, ratings, st.booleans())
# Days long before the start and long after the end are in, as a phone with a wrong clock sends them.
diaries = st.dictionaries(st.dates(date(2020, 1, 1), date(2031, 1, 1)) | st.dates(START, START + timedelta(60)), facts)


@settings(deadline=None)
@given(diaries, st.sampled_from(fixed_plans()), st.integers(-5, 90))
def test_any_diary_is_followed_and_each_day_goes_on_from_the_one_before(diary, plan, days):
    until = START + timedelta(days)
    accounts = follow(plan, start_state(plan), START, diary, until)
    assert [account.on for account in accounts] == [START + timedelta(number) for number in range(max(0, days))]
    state = start_state(plan)
    for account in accounts:
        assert account.state_before == state
        assert account.response in RESPONSES
        assert account.dose.mode == state.mode
        state = account.state_after
        assert 1 <= state.rung <= plan.ladder.top


@settings(deadline=None)
@given(st.dictionaries(st.dates(START, START + timedelta(40)), facts), st.integers(1, 39))
def test_stopping_anywhere_and_going_on_is_the_same_as_going_through(diary, cut):
    plan, until, middle = fixed_plans()[0], START + timedelta(40), START + timedelta(cut)
    through = follow(plan, start_state(plan), START, diary, until)
    first = follow(plan, start_state(plan), START, diary, middle)
    known = [account.facts.morning for account in first if account.facts.morning is not None]
    rest = follow(plan, first[-1].state_after, middle, diary, until, known[-1] if known else None)
    assert first + rest == through


def test_ten_thousand_days_are_followed():
    plan = plan_for()
    days = {START + timedelta(number): DayFacts(1, 1, 1) for number in range(0, 10_000, 2)}
    accounts = follow(plan, start_state(plan), START, days, START + timedelta(10_000))
    assert len(accounts) == 10_000
    assert accounts[-1].state_after.rung == plan.ladder.top


def test_a_morning_that_is_not_known_leaves_the_last_known_one_to_compare_with():
    plan = plan_for()
    days = {
        START: DayFacts(1, 1, 1),
        START + timedelta(1): DayFacts(1, 1, None),
        START + timedelta(2): DayFacts(1, 1, 3),
    }
    third = follow(plan, State(3), START, days, START + timedelta(3))[-1]
    assert (third.before, third.response, third.classed_by) == (1, "flared", "flared-rise")
