"""The rules' six promises, walked over every state and every response of many plans."""

import gzip
import itertools
import json
from itertools import pairwise
from time import process_time

import pytest
from hypothesis import HealthCheck, Phase, given, settings

from tests.dosing.spread import fixed_plans, plans
from webapp.dosing.almanac import build, merged, walk
from webapp.dosing.responses import DURING_AXIS, KNOWN_AXIS, LETTERS, RATINGS, RESPONSES, classify, cube, cube_index

ALMOST = 1 + 1e-9
A_TENTH = 1.10
"""2-10 % a step (source: acsm-2009, seen second-hand)."""


def transitions(almanac):
    for place, state in enumerate(almanac.states):
        for number, response in enumerate(RESPONSES):
            after = almanac.next[place][number]
            yield (
                state,
                response,
                almanac.states[after],
                almanac.doses[almanac.dose_of[place]],
                almanac.doses[almanac.dose_of[after]],
            )


def check_work_never_rises_unless_settled(plan, almanac):
    for state, response, after, dose, next_dose in transitions(almanac):
        if response != "settled" and state.mode == "training":
            assert next_dose.work_j <= dose.work_j * ALMOST, (state, response, after)


def check_a_return_from_rest_is_lower_than_before_the_flare(plan, almanac):
    for place, state in enumerate(almanac.states):
        if state.mode != "training":
            continue
        flared = almanac.next[place][RESPONSES.index("flared")]
        assert almanac.states[flared].mode == "resting"
        for response in ("settled", "tender", "unreported", "missed"):
            back = almanac.next[flared][RESPONSES.index(response)]
            was, now = (almanac.doses[almanac.dose_of[one]].work_j for one in (place, back))
            at_the_floor = state.rung == 1 and state.ease == 2
            assert now < was or (at_the_floor and now <= was * ALMOST), state


def check_one_lever_at_a_time(plan, almanac):
    for state, response, after, dose, next_dose in transitions(almanac):
        if state.mode != "training" or after.mode != "training":
            continue
        more_range, more_rung = after.ease < state.ease, after.rung > state.rung
        assert not (more_range and more_rung), (state, response)
        longer = any(now.seconds > was.seconds for was, now in zip(dose.holds, next_dose.holds, strict=True))
        assert not (longer and (more_range or more_rung)), (state, response)
        if more_range:
            assert state.ease - after.ease == 1
        if more_rung:
            rung = plan.ladder.rung(after.rung)
            accepted = rung.load_kg in plan.tuning.accepted_jumps_kg and rung.heavier
            cap = A_TENTH if rung.heavier else 1 + plan.tuning.rise
            assert after.rung == state.rung + 1
            assert accepted or next_dose.work_j <= dose.work_j * cap * ALMOST, (state, after)


def check_held_is_left_by_nothing_and_all_else_reaches_rest_and_goal(plan, almanac):
    settled, flared = RESPONSES.index("settled"), RESPONSES.index("flared")
    for place, state in enumerate(almanac.states):
        if state.mode == "held":
            assert {almanac.states[after].mode for after in almanac.next[place]} == {"held"}
            continue
        assert almanac.states[almanac.next[place][flared]].mode == "resting", state
    good_days_left = {}
    for place, state in enumerate(almanac.states):
        if state.mode == "held":
            continue
        path = [place]
        while path[-1] not in good_days_left:
            now = almanac.states[path[-1]]
            if now.rung == plan.ladder.top and now.ease == 0 and now.mode == "training":
                good_days_left[path[-1]] = 0
                break
            path.append(almanac.next[path[-1]][settled])
            assert len(path) <= len(almanac.states), ("never reaches the goal", state)
        for one in path:
            good_days_left.setdefault(one, 1)


def check_a_worse_response_never_gives_more(plan, almanac):
    order = ("settled", "tender", "flared", "sharp")
    for place, state in enumerate(almanac.states):
        works = [almanac.doses[almanac.dose_of[almanac.next[place][RESPONSES.index(one)]]].work_j for one in order]
        if state.mode == "training":
            assert all(more * ALMOST >= less for more, less in itertools.pairwise(works)), state


def check_the_table_is_closed(plan, almanac):
    size = len(almanac.states)
    assert all(len(row) == len(RESPONSES) and all(0 <= one < size for one in row) for row in almanac.next)
    assert all(0 <= one < len(almanac.doses) for one in almanac.dose_of)
    for state in almanac.states:
        assert 1 <= state.rung <= plan.ladder.top
        assert 0 <= state.ease <= 2


CHECKS = (
    check_work_never_rises_unless_settled,
    check_a_return_from_rest_is_lower_than_before_the_flare,
    check_one_lever_at_a_time,
    check_held_is_left_by_nothing_and_all_else_reaches_rest_and_goal,
    check_a_worse_response_never_gives_more,
    check_the_table_is_closed,
)


@pytest.mark.parametrize("number", range(len(fixed_plans())))
def test_merging_equal_rows_changes_no_dose_and_no_reason_of_any_state(number):
    plan = fixed_plans()[number]
    whole = walk(plan)
    small = merged(whole)
    assert set(small.places) == set(whole.states)
    for place, state in enumerate(whole.states):
        row = small.index(state)
        assert small.doses[small.dose_of[row]] == whole.doses[whole.dose_of[place]], state
        assert small.reasons[row] == whole.reasons[place], state
        assert small.next[row] == tuple(small.index(whole.states[after]) for after in whole.next[place]), state
    assert merged(small) == small, "nothing more can be merged"


def test_the_almanac_of_six_weights_is_of_a_size_to_carry(capsys):
    began = process_time()
    almanac = build(fixed_plans()[0])
    seconds = process_time() - began
    columns = [[here - before for before, here in pairwise((0, *column))] for column in zip(*almanac.next, strict=True)]
    table = json.dumps([columns, almanac.dose_of]).encode()
    size = len(gzip.compress(table))
    with capsys.disabled():
        # Shown with every run, for whoever watches the size grow.
        print(f"\nalmanac of six weights: {len(almanac.places)} states in {len(almanac.states)} rows, ", end="")  # noqa: T201 - as said
        print(f"{size} bytes gzipped, built in {seconds * 1000:.0f} ms of processor time", end=" ")  # noqa: T201 - as said
    assert len(almanac.states) < len(almanac.places)


@pytest.mark.parametrize("number", range(len(fixed_plans())))
def test_what_is_always_true_holds_in_every_state_of_each_chosen_plan(number):
    plan = fixed_plans()[number]
    almanac = walk(plan)
    for check in CHECKS:
        check(plan, almanac)


# A plan is not worth shrinking: each example is a walk of thousands of states.
@settings(
    max_examples=40,
    deadline=None,
    suppress_health_check=list(HealthCheck),
    derandomize=True,
    phases=[Phase.explicit, Phase.generate],
)
@given(plans())
def test_what_is_always_true_holds_in_every_state_of_any_plan(plan):
    almanac = walk(plan)
    for check in CHECKS:
        check(plan, almanac)


SEVERITY = {"settled": 0, "tender": 1, "flared": 2, "sharp": 3}


@pytest.mark.parametrize("plan", [fixed_plans()[0], fixed_plans()[1], fixed_plans()[3]], ids=["usual 2", "4", "5"])
def test_a_worse_rating_is_never_classed_better_anywhere_in_the_cube(plan):
    def severity(during, morning, before):
        return SEVERITY[classify(during, morning, before, plan.client.usual, plan.tuning)]

    for low in RATINGS[:-1]:
        for other in RATINGS:
            for third in RATINGS:
                assert severity(low, other, third) <= severity(low + 1, other, third)
                assert severity(other, low, third) <= severity(other, low + 1, third)
                assert severity(other, third, low) >= severity(other, third, low + 1)


@pytest.mark.parametrize("usual", range(6))
def test_the_cube_holds_the_class_of_every_cell(usual):
    tuning = fixed_plans()[0].tuning
    letters = cube(usual, tuning)
    assert len(letters) == 13 * 12 * 12
    for during in DURING_AXIS:
        for morning in KNOWN_AXIS:
            for before in KNOWN_AXIS:
                told = classify(during, morning, before, usual, tuning)
                assert letters[cube_index(during, morning, before)] == LETTERS[told]
