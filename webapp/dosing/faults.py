"""What is wrong with a routine or a client: every fault, with its value and the rule."""

from collections.abc import Iterator
from dataclasses import fields
from typing import NamedTuple

from webapp.dosing.figures import USUAL_BY_HAND
from webapp.dosing.settings import (
    ARMS,
    BOUNDS,
    DIRECTION_OF,
    DIRECTIONS,
    MOST_WEIGHTS,
    SEXES,
    Bound,
    Client,
    Routine,
    StartRungs,
    Tuning,
)


class Fault(NamedTuple):
    """One thing that is wrong.

    Attributes:
        code: A stable word for the kind of fault.
        field: The field at fault.
        value: Its value.
        rule: What must hold, as plain numbers: (low, high, unit), or other operands of the code.
    """

    code: str
    field: str
    value: object
    rule: tuple[object, ...] = ()


def number_fault(name: str, value: object, bound: Bound | None = None) -> Fault | None:
    """Return the fault of a number, or None where it has none.

    Args:
        name: The field. It is also the key of `BOUNDS` where `bound` is left out.
        value: The value to check, of any type.
        bound: The range, where it is not `BOUNDS[name]`.

    Returns:
        A fault with code `not_a_number`, `not_whole` or `out_of_range`, or None.
    """
    limit = bound or BOUNDS[name]
    rule = (limit.low, limit.high, limit.unit)
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        return Fault("not_a_number", name, value, rule)
    if not limit.low <= value <= limit.high:
        return Fault("out_of_range", name, value, rule)
    if limit.whole and value != int(value):
        return Fault("not_whole", name, value, rule)
    return None


def _number_faults(thing: object) -> Iterator[Fault]:
    for entry in fields(thing):  # type: ignore[arg-type]
        if entry.name in BOUNDS:
            value = getattr(thing, entry.name)
            fault = None if value is None else number_fault(entry.name, value)
            if fault:
                yield fault


def _tuning_faults(tuning: Tuning) -> Iterator[Fault]:
    found = list(_number_faults(tuning))
    yield from found
    if found:
        return
    if tuning.low_reps >= tuning.goal_reps:
        yield Fault("low_not_under_goal", "low_reps", tuning.low_reps, (tuning.goal_reps,))
    if tuning.low_reps * tuning.rise < 1 - 1e-9:
        # One rep more must fit under the cap, or the ladder has no second rung.
        yield Fault("rise_too_small", "rise", tuning.rise, (tuning.low_reps,))
    least = tuning.heavier_days - tuning.climb_days
    if tuning.fast_heavier_days < least:
        # A client who goes one rung down spends climb_days to climb it again, and that climb counts towards the fast
        # pace. Going down must never be the quicker way up.
        yield Fault("pace_pays", "fast_heavier_days", tuning.fast_heavier_days, (least,))
    if tuning.hold_shortest_seconds > tuning.hold_longest_seconds:
        rule = (tuning.hold_longest_seconds,)
        yield Fault("shortest_over_longest", "hold_shortest_seconds", tuning.hold_shortest_seconds, rule)


def _direction_faults(directions: tuple[str, ...]) -> Iterator[Fault]:
    for movement in directions:
        if movement not in DIRECTION_OF:
            yield Fault("not_a_direction", "directions", movement, tuple(DIRECTION_OF))
    known = [DIRECTION_OF[movement] for movement in directions if movement in DIRECTION_OF]
    if len(known) == len(directions) and sorted(known) != sorted(DIRECTIONS):
        yield Fault("not_all_four", "directions", directions, tuple(DIRECTION_OF))


def faults_of_routine(routine: Routine) -> list[Fault]:
    """Return every fault of a routine; an empty list means that it can be used."""
    found = list(_tuning_faults(routine.tuning))
    found += _number_faults(routine.tempo)
    for timed in (*routine.warm_ups, *routine.stretches, *routine.own):
        found += _number_faults(timed)
    found += _direction_faults(routine.directions)
    return found


def _weight_faults(weights: tuple[float, ...]) -> Iterator[Fault]:
    for weight in weights:
        fault = number_fault("weights_kg", weight, BOUNDS["weight_kg"])
        if fault:
            yield fault
    if not 1 <= len(weights) <= MOST_WEIGHTS:
        yield Fault("wrong_count", "weights_kg", len(weights), (1, MOST_WEIGHTS))
    elif 0 not in weights:
        yield Fault("zero_missing", "weights_kg", weights)
    elif len(set(weights)) != len(weights):
        yield Fault("twice", "weights_kg", weights)


def _start_faults(rungs: StartRungs, arms: tuple[str, ...]) -> Iterator[Fault]:
    for arm in ARMS:
        rung = rungs.of(arm)
        fault = None if rung is None else number_fault(f"start_rungs.{arm}", rung, BOUNDS["start_rung"])
        if fault:
            yield fault
        elif rung is not None and arm not in arms:
            yield Fault("not_trained", f"start_rungs.{arm}", rung, arms)


def faults_of_client(client: Client) -> list[Fault]:
    """Return every fault of a client; an empty list means that a dose can be worked out."""
    found = list(_number_faults(client.body)) + list(_number_faults(client))
    if client.body.sex not in SEXES:
        found.append(Fault("not_one_of", "sex", client.body.sex, ("female", "male")))
    if not client.arms or set(client.arms) - set(ARMS) or len(set(client.arms)) != len(client.arms):
        found.append(Fault("not_one_of", "arms", client.arms, ARMS))
    usual_faults = any(fault.field == "usual" for fault in found)
    if not usual_faults and client.usual >= USUAL_BY_HAND.value and not client.clinician_seen:
        found.append(Fault("clinician_unseen", "usual", client.usual, (int(USUAL_BY_HAND.value) - 1,)))
    return found + list(_start_faults(client.start_rungs, client.arms)) + list(_weight_faults(client.weights_kg))
