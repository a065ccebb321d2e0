"""One step for many clients is the core's own step for each of them."""

import numpy as np

from tests.forecast.people import plan, tables
from webapp.dosing.almanac import Position
from webapp.dosing.closing import close_day
from webapp.dosing.plan import carry_over
from webapp.dosing.release import offer, released
from webapp.dosing.responses import IDLE, RESPONSES
from webapp.dosing.state import MOST_GAP_DAYS
from webapp.forecast.steps import Positions

DAYS, CLIENTS = 120, 400


def _walked(idle_share):
    """Random responses from the start: every (position, response, position after), days after days."""
    rng = np.random.Generator(np.random.PCG64(7))
    idle, active = (
        [RESPONSES.index(name) for name in RESPONSES if (name in IDLE) == is_idle] for is_idle in (True, False)
    )
    nothing = np.zeros(CLIENTS, dtype=np.int64)
    at = Positions(np.full(CLIENTS, tables().start), nothing, nothing)
    for _ in range(DAYS):
        is_idle = rng.random(CLIENTS) < idle_share
        response = np.where(is_idle, rng.choice(idle, CLIENTS), rng.choice(active, CLIENTS, p=_mostly_settled(active)))
        after = tables().steps.close(at, response)
        yield at, response, after
        held = np.array([state.mode == "held" for state in tables().almanac.states])[after.row]
        at = after._replace(row=np.where(held, tables().release[after.row], after.row))


def _mostly_settled(active):
    weights = np.where(np.array(active) == RESPONSES.index("settled"), 40.0, 1.0)
    return weights / weights.sum()


def _position(at, client):
    return Position(*(int(part[client]) for part in at))


def test_a_step_of_many_is_the_look_up_of_each():
    gaps = set()
    for idle_share in (0.15, 0.9):
        for at, response, after in _walked(idle_share):
            for client in range(0, CLIENTS, 5):
                before, name = _position(at, client), RESPONSES[response[client]]
                assert _position(after, client) == tables().almanac.close(before, name)[0]
                gaps.add(after.gap_days[client])
    assert gaps == set(range(MOST_GAP_DAYS + 1))


def test_a_step_of_many_is_the_rules_own_step_of_each():
    almanac, seen = tables().almanac, set()
    for at, response, after in _walked(0.6):
        for client in range(0, CLIENTS, 10):
            state, name = almanac.state_at(_position(at, client)), RESPONSES[response[client]]
            assert almanac.position(close_day(plan(), state, name).state) == _position(after, client)
            seen.add((name, state.mode))
    assert {(name, mode) for name in RESPONSES for mode in ("training", "resting")} <= seen


def test_a_release_gives_all_that_is_offered_and_leaves_other_rows_alone():
    for row, state in enumerate(tables().almanac.states):
        after = tables().almanac.states[tables().release[row]]
        assert after == (released(plan(), state, offer(plan(), state)) if state.mode == "held" else state)


def test_a_changed_usual_pain_leads_to_the_state_that_is_carried_over():
    rows = range(0, len(tables().almanac.states), 7)
    carried = [tables().almanac.states[tables().carried[row]] for row in rows]
    assert carried == [carry_over(plan(), plan(), tables().almanac.states[row]) for row in rows]
    assert any(tables().carried[row] != row for row in rows)
