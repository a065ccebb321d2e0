"""Courses of any days on any plan, twenty thousand at full length: what the walks show of single steps, along whole lives.

A course is drawn as bytes, one a day: which of the responses it brought. Every plan of `plan_by_number` may come.
"""

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from tests.amount import drawn
from tests.dosing.spread import plan_by_number, plan_for
from tests.dosing.whole import worse_pairs
from webapp.dosing.closing import close_day
from webapp.dosing.dose import dose
from webapp.dosing.plan import start_state
from webapp.dosing.release import offer, released, returns
from webapp.dosing.responses import RESPONSES

CASES = drawn(700, 20_000)
PLANS = drawn(40, 300)
ALMOST = 1 + 1e-9
RELEASE = len(RESPONSES)
# Days are mostly good, or nobody would ever get far enough up to fall.
DAYS = (*["settled"] * 20, *RESPONSES, *["missed"] * 4, "tender", "aching")
shown = {"courses": 0, "days": 0, "climbs": 0, "widenings": 0, "stops": 0}

AT_LARGE = settings(
    max_examples=CASES,
    deadline=None,
    derandomize=True,
    database=None,
    phases=(Phase.generate,),
    suppress_health_check=list(HealthCheck),
)


class Life:
    """One arm's course, with what it has borne so far, J a day."""

    def __init__(self, plan):
        self.plan, self.state = plan, start_state(plan)
        self.borne = self.asks()
        self.risen_ago = 9

    def asks(self):
        return dose(self.plan, self.state).work_j

    def live(self, byte):
        if self.state.mode == "held" and byte % 3 == 0:
            self.come_back(byte)
            return
        response, was, before = DAYS[byte % len(DAYS)], self.asks(), self.state
        self.state = close_day(self.plan, before, response).state
        now = self.asks()
        self.check(response, before, was, now)
        self.borne = max(self.borne, now)
        shown["days"] += 1

    def check(self, response, before, was, now):
        after = self.state
        if before.mode == "training" and after.mode == "training":
            assert now <= was * ALMOST or response == "settled", (before, response)
            self.risen_ago = self.risen_ago + 1
            if now > was * ALMOST:
                assert self.risen_ago >= 3, ("two increases within 72 hours", before)
                self.risen_ago = 0
        else:
            self.risen_ago += 1
        if after.ease < before.ease:
            # What was given up is given back, and never more than the arm has done before.
            shown["widenings"] += 1
            assert now <= self.borne * ALMOST, before
        if after.rung > before.rung:
            shown["climbs"] += 1
            assert response == "settled" and after.rung == before.rung + 1 and not before.ease  # noqa: PT018 - one climb
        if before.mode == "resting" and after.mode == "training":
            assert now <= self.borne * ALMOST, before

    def come_back(self, byte):
        shown["stops"] += 1
        held = self.state
        choices = returns(self.plan, held)
        chosen = choices[byte % len(choices)]
        assert choices[0] == offer(self.plan, held)
        self.state = released(self.plan, held, chosen)
        assert self.state.rung <= held.rung
        assert self.state.ease >= max(1, held.ease)
        assert self.asks() <= self.borne * ALMOST
        self.risen_ago = 9


@AT_LARGE
@given(st.integers(0, PLANS - 1), st.binary(min_size=10, max_size=50))
def live_any_course(number, days):
    life = Life(plan_by_number(number))
    for byte in days:
        life.live(byte)
    shown["courses"] += 1


@pytest.mark.drawn
def test_no_course_breaks_a_statement(counted):
    live_any_course()
    assert shown["courses"] == CASES
    assert min(shown.values()) > CASES / 20, "the courses went everywhere"
    counted(f"courses at large: {shown}")


def ever_after(plan, better, worse, later, days):
    """Compare two lives that differ by one day's answer, day by day, while the later days are all alike."""
    for _ in range(days):
        assert dose(plan, worse).work_j <= dose(plan, better).work_j * ALMOST, (better, worse, later)
        better, worse = (close_day(plan, state, later).state for state in (better, worse))


@pytest.mark.drawn
@settings(AT_LARGE, max_examples=drawn(150, 1500))
@given(
    st.integers(0, PLANS - 1), st.binary(max_size=60), st.integers(0, 10_000), st.sampled_from(["settled", "missed"])
)
def test_a_worse_answer_pays_in_no_course(number, days, which, later):
    life = Life(plan_by_number(number))
    for byte in days:
        life.live(byte)
    pairs = worse_pairs(life.plan)
    better, worse = (close_day(life.plan, life.state, answer).state for answer in pairs[which % len(pairs)])
    ever_after(life.plan, better, worse, later, 60)


def test_other_days_than_calm_ones_and_days_away_may_let_courses_cross():
    """What statement 4 does not promise, by the smallest course that shows it.

    After three tender days comes a calm day of which only a part was done, or one that ached with a calm morning. The
    ache sets the run of tender days to nothing, the part keeps it. One more tender day then eases the first course and
    not the second, though the second had the worse answer. Streaks and runs let courses cross; the statement says no
    more than calm days and days without a session.
    """
    state, answers, later = crossings(plan_for(), most=1)
    assert (state.tender_days, answers, later) == (3, ("partly", "aching"), ("tender",))
    assert ever_after_holds(plan_for(), state, answers)


def ever_after_holds(plan, state, answers):
    better, worse = (close_day(plan, state, answer).state for answer in answers)
    for later in ("settled", "missed"):
        ever_after(plan, better, worse, later, 60)
    return True


def crossings(plan, most):
    """Search every run of `most` days for one after which the course of the worse answer asks more."""
    start = start_state(plan)._replace(first_week_day=0, first_week_stage=0, rung=min(4, plan.ladder.top))
    starts = [start._replace(tender_days=count, ease=ease) for count in range(4) for ease in range(3)]
    for state in starts:
        for answers in worse_pairs(plan):
            pair = tuple(close_day(plan, state, answer).state for answer in answers)
            found = _cross(plan, pair, most)
            if found:
                return state, answers, found
    return None


def _cross(plan, pair, left, so_far=()):
    better, worse = pair
    if dose(plan, worse).work_j > dose(plan, better).work_j * ALMOST:
        return so_far or ("at once",)
    if not left:
        return None
    for later in ("settled", "missed", "tender"):
        after = tuple(close_day(plan, state, later).state for state in pair)
        if found := _cross(plan, after, left - 1, (*so_far, later)):
            return found
    return None
