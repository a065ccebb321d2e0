"""The closed table of the goes, and that a worse answer never leads up sooner."""

import random
from functools import cache
from itertools import product

import pytest

from tests.amount import drawn
from tests.dosing.returning.test_rules import LADDER, ROWS
from webapp.dosing.returning import rules
from webapp.dosing.returning.closing import SportDay, close_go, close_sport_day
from webapp.dosing.returning.go import Go, ReturnState, is_passed, may_go, step_today
from webapp.dosing.returning.table import LETTERS, go_table, letter, steps_after

BETTER_AND_WORSE = (
    ("calm", "untold"), ("calm", "aching"), ("untold", "aching_untold"), ("aching", "aching_untold"), ("untold", "sore"),
    ("aching", "sore"), ("aching_untold", "sore"), ("sore", "flared"), ("flared", "sharp"),
)  # fmt: skip
COURSE = (("calm", "untold", "aching", "sore", "aching_untold", "flared"), (36, 3, 3, 3, 1, 1))
DAYS_AFTER = 45


def test_the_table_is_closed_and_says_what_the_core_says():
    table = go_table()
    for (row, go), (outing, feel, again) in product(enumerate(table.rows), LETTERS):
        column = table.column_of[letter(outing, feel, is_again=again)]
        closed = close_go(go, outing, feel, is_again=again)
        assert table.rows[table.next[column][row]] == closed.go
        rule = rules.RETURN_RULES[table.why[column][row]]
        assert (rule.move, rule.id) == (closed.move, closed.rule)


def test_the_table_knows_which_goes_have_passed_and_where_each_move_leads():
    for row, go in enumerate(ROWS):
        assert all(
            go_table().passed[LADDER.at(step).days_a_week][row] == is_passed(LADDER, step, go) for step in (1, 2)
        )
    assert all(1 <= step <= len(LADDER.steps) for column in steps_after(LADDER) for step in column)
    assert go_table().rows[0] == Go()


def _asked(state):
    return LADDER.at(step_today(LADDER, state, is_clear=True)).minutes


def some_place(dice):
    """A place that a client may come to, by invented days."""
    state = ReturnState(step=dice.randint(1, len(LADDER.steps)))
    for _ in range(dice.randint(0, 60)):
        (feel,) = dice.choices(*COURSE)
        is_out = dice.random() < (0.8 if may_go(LADDER, state, is_clear=True) else 0.03)
        state = close_sport_day(
            LADDER, state, SportDay(_asked(state) if is_out else None, feel), is_clear=dice.random() < 0.8
        ).state
    return state


@cache
def steps_later(state, *, plays):
    """The step allowed on each later day when every day is calm, with sport whenever it is allowed or with none; 0 once it is over."""
    found = []
    for _ in range(DAYS_AFTER):
        is_over = state.go.mode in ("stopped", "away")
        found.append(0 if is_over else step_today(LADDER, state, is_clear=True))
        minutes = _asked(state) if plays and may_go(LADDER, state, is_clear=True) else None
        state = close_sport_day(LADDER, state, SportDay(minutes, "calm"), is_clear=True).state
    return found


@pytest.mark.drawn
def test_a_worse_answer_never_leads_to_a_larger_step_on_any_later_day():
    # Made worse on one day, the sport being the same, and only calm days after it: no later day allows a larger step.
    dice = random.Random(20261128)  # noqa: S311 - invented days, no secret
    for _ in range(drawn(60, 4000)):
        state = some_place(dice)
        minutes = dice.choice([None, 1, _asked(state)])
        for (better, worse), plays in product(BETTER_AND_WORSE, (False, True)):
            after = [
                close_sport_day(LADDER, state, SportDay(minutes, feel), is_clear=True).state for feel in (better, worse)
            ]
            higher, lower = (steps_later(each, plays=plays) for each in after)
            assert all(low <= high for low, high in zip(lower, higher, strict=True)), (state, minutes, better, worse)
