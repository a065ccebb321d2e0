"""The run of days: no diary, however odd, upsets it, and what it says hangs together."""

from datetime import date, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.dosing.spread import fixed_plans, plan_for
from webapp.dosing.course import DayFacts, follow
from webapp.dosing.plan import start_state
from webapp.dosing.release import Return
from webapp.dosing.responses import DONE_AXIS, ENOUGH, NONE, PART, RESPONSES
from webapp.dosing.state import State

START = date(2026, 3, 2)
ratings = st.none() | st.integers(0, 10)
facts = st.builds(
    DayFacts, st.integers(0, 6), st.sampled_from(DONE_AXIS), ratings, st.booleans(), ratings, st.booleans()
)
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
    assert first + follow(plan, first[-1].state_after, middle, diary, until) == through


def good(morning=1, **other):
    return DayFacts(**{"sessions": 1, "done": ENOUGH, "during": 1, "morning": morning} | other)


def followed(*days, plan=None, state=None, releases=None, **how):
    plan = plan or plan_for()
    facts = {START + timedelta(number): day for number, day in enumerate(days)}
    until = START + timedelta(len(days))
    return follow(plan, state or start_state(plan), START, facts, until, releases, **how)


def test_ten_thousand_days_are_followed():
    plan = plan_for()
    days = {START + timedelta(number): good() for number in range(0, 10_000, 2)}
    accounts = follow(plan, start_state(plan), START, days, START + timedelta(10_000))
    assert len(accounts) == 10_000
    assert accounts[-1].state_after.rung == plan.ladder.top


def test_a_morning_is_compared_with_the_lowest_of_the_three_before():
    accounts = followed(good(0), good(2), good(2), good(2), good(3), state=State(3))
    assert [day.before for day in accounts] == [None, 0, 0, 0, 2]
    assert [day.response for day in accounts] == ["settled", "settled", "settled", "settled", "tender"]
    # The first morning is now four days back; a day sooner it still made a rise of three of the last one.
    assert followed(good(0), good(2), good(2), good(3), state=State(3))[-1].classed_by == "flared-rise"


def test_a_morning_that_is_not_known_leaves_the_others_to_compare_with():
    third = followed(good(1), good(None), good(3), state=State(3))[-1]
    assert (third.before, third.response, third.classed_by) == (1, "flared", "flared-rise")


def test_an_unrated_session_hides_no_known_number():
    def of(**other):
        return followed(good(**other), state=State(3))[-1].response

    assert of(during=None, is_unrated=True) == "unreported"
    assert of(is_unrated=True) == "unreported", "two sessions, one of them calm and one not rated"
    assert of(during=5, is_unrated=True) == "aching"
    assert of(during=7, is_unrated=True) == "flared"
    assert of(morning=3, is_unrated=True) == "tender"
    assert of(done=PART, is_unrated=True) == "unreported"


def test_on_a_day_that_asks_nothing_a_session_is_a_part():
    resting, held = State(3, ease=1, rest_days=1, mode="resting"), State(3, mode="held")
    assert [followed(good(), state=state)[-1].response for state in (State(3), resting, held)] == [
        "settled",
        "partly",
        "partly",
    ]


def test_a_hold_ends_on_the_day_that_the_release_names():
    sharp = DayFacts(sharp=True)
    released_on = {START + timedelta(3): Return(2, 1)}
    accounts = followed(sharp, good(), good(), good(), state=State(4), releases=released_on)
    assert [day.state_after.mode for day in accounts] == ["held", "held", "training", "training"]
    assert (accounts[2].reasons, accounts[2].state_after.rung, accounts[2].state_after.ease) == (("released",), 2, 1)
    early = {START + timedelta(0): Return(2, 1)}
    assert followed(sharp, good(), state=State(4), releases=early)[-1].state_after.mode == "held"


def test_days_held_count_for_a_release_on_paper():
    days = [DayFacts(sharp=True), *[DayFacts()] * 40]
    long, short = (
        followed(
            *days[: 2 + held],
            state=State(11),
            releases={START + timedelta(1 + held): Return(11, 0)},
            counts_days_held=True,
        )[-1]
        for held in (39, 3)
    )
    assert (short.state_after.rung, short.state_after.ease) == (10, 1)
    assert (long.state_after.rung, long.state_after.ease) == (1, 1)


def test_nothing_done_earns_nothing():
    """Sixty days of sessions stopped after a step, of short ways, of half sessions: the rung stays where it began."""
    for done in (NONE, PART):
        accounts = followed(*[good(done=done)] * 60)
        assert max(day.state_after.rung for day in accounts) == start_state(plan_for()).rung


def test_calm_mornings_without_a_rating_neither_climb_nor_sink():
    # At first the sessions of the first week come together; the rung and the range stay.
    accounts = followed(*[good(during=None, is_unrated=True)] * 60)
    assert {(day.state_after.rung, day.state_after.ease) for day in accounts} == {(3, 0)}


def test_sore_sessions_with_calm_mornings_stay_where_they_are():
    # 4-5 is acceptable while the next morning is calm (Silbernagel 2007, seen second-hand).
    accounts = followed(*[good(during=5)] * 60)
    assert {(day.state_after.rung, day.state_after.ease) for day in accounts} == {(3, 0)}


def test_mornings_at_a_usual_of_five_never_climb_by_themselves():
    plan = plan_for(usual=5)
    accounts = followed(*[good(5, during=2)] * 60, plan=plan)
    assert {day.state_after.rung for day in accounts} == {1}
    assert {day.response for day in accounts} == {"settled"}
