"""What the practitioner sets: a routine, and the client it is for.

Bounds are held here and nowhere else. Values may be built freely; `faults_of` says what
is wrong with them, every fault together.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field, fields
from typing import NamedTuple

DIRECTIONS = ("extension", "flexion", "radial", "ulnar")
SIDE_DIRECTIONS = frozenset({"radial", "ulnar"})
DIRECTION_OF = {
    "palm_down": "extension",
    "palm_up": "flexion",
    "thumb_up": "radial",
    "little_finger_up": "ulnar",
}
ARMS = ("right", "left")
SEXES = ("female", "male", None)


class Bound(NamedTuple):
    """The range a value must lie in.

    Attributes:
        low: The least allowed value.
        high: The greatest allowed value.
        unit: The unit of both.
        basis: A key of content/sources.toml.
        whole: True where only whole numbers make sense.
    """

    low: float
    high: float
    unit: str
    basis: str
    whole: bool = True


BOUNDS: dict[str, Bound] = {
    "low_reps": Bound(5, 15, "reps", "common-practice"),
    "goal_reps": Bound(10, 30, "reps", "acsm-2009"),
    "rise": Bound(0.10, 0.30, "of the day's work", "acsm-2009", whole=False),
    "settled_during": Bound(2, 5, "of 10", "silbernagel-2007"),
    "widen_days": Bound(2, 7, "settled days", "magnusson-2010"),
    "climb_days": Bound(2, 7, "settled days", "magnusson-2010"),
    "heavier_days": Bound(3, 14, "settled days", "peterson-2011"),
    "fast_climb_days": Bound(2, 7, "settled days", "own-choice"),
    "fast_heavier_days": Bound(3, 14, "settled days", "own-choice"),
    "first_week_sessions": Bound(1, 3, "sessions a day", "common-practice"),
    "hold_shortest_seconds": Bound(20, 45, "seconds", "common-practice"),
    "hold_longest_seconds": Bound(20, 60, "seconds", "common-practice"),
    "prepare_seconds": Bound(5, 60, "seconds", "own-choice"),
    "up_seconds": Bound(1, 6, "seconds", "acsm-2009", whole=False),
    "down_seconds": Bound(1, 8, "seconds", "acsm-2009", whole=False),
    "rest_seconds": Bound(5, 180, "seconds", "common-practice"),
    "change_arm_seconds": Bound(5, 120, "seconds", "own-choice"),
    "mass_kg": Bound(30, 250, "kg", "own-choice", whole=False),
    "height_m": Bound(1.2, 2.3, "m", "own-choice", whole=False),
    "weight_kg": Bound(0, 5, "kg", "own-choice", whole=False),
    "usual": Bound(0, 5, "of 10", "nhs-inform-elbow"),
    "start_rung": Bound(1, 200, "rungs", "own-choice"),
    "reps": Bound(1, 50, "reps", "common-practice"),
    "seconds_each": Bound(0.5, 10, "seconds", "common-practice", whole=False),
    "sessions": Bound(0, 6, "sessions a day", "own-choice"),
    "rating": Bound(0, 10, "of 10", "farrar-2001"),
}
MOST_WEIGHTS = 20


@dataclass(frozen=True)
class Body:
    """A body, as far as a wrist's work needs it: kilograms, metres, and sex or None for the mean."""

    mass_kg: float
    height_m: float
    sex: str | None = None


@dataclass(frozen=True)
class Tuning:
    """What a practitioner may turn, each within its entry in `BOUNDS`."""

    low_reps: int = 8
    goal_reps: int = 20
    rise: float = 0.25
    settled_during: int = 3
    widen_days: int = 3
    climb_days: int = 3
    heavier_days: int = 7
    fast_climb_days: int = 3
    fast_heavier_days: int = 4
    first_week_sessions: int = 2
    hold_shortest_seconds: int = 35
    hold_longest_seconds: int = 45
    accepted_jumps_kg: tuple[float, ...] = ()


@dataclass(frozen=True)
class Tempo:
    """The seconds of each part of a session."""

    prepare_seconds: int = 10
    up_seconds: float = 2
    down_seconds: float = 3
    rest_seconds: int = 20
    change_arm_seconds: int = 15


@dataclass(frozen=True)
class WarmUp:
    """One warm-up movement: how many times, and the seconds of one."""

    movement: str
    reps: int = 10
    seconds_each: float = 3


@dataclass(frozen=True)
class Routine:
    """What is prescribed: movements, ranges of dose, tempo. Client data is not in it."""

    title: str
    area: str
    tuning: Tuning = field(default_factory=Tuning)
    tempo: Tempo = field(default_factory=Tempo)
    warm_ups: tuple[WarmUp, ...] = (
        WarmUp("fingers"),
        WarmUp("circles_thumb_first"),
        WarmUp("circles_little_first"),
    )
    directions: tuple[str, ...] = tuple(DIRECTION_OF)
    stretches: tuple[str, ...] = ("stretch_palm_down", "stretch_palm_up")


@dataclass(frozen=True)
class Client:
    """Who it is for: body, arms, the weights at home in kilograms (0 among them), usual pain 0-5."""

    body: Body
    arms: tuple[str, ...] = ("right",)
    weights_kg: tuple[float, ...] = (0.0,)
    usual: int = 0
    start_rung: int | None = None


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
    """Say what is wrong with a number, if anything.

    Args:
        name: The field; also the key of `BOUNDS` when `bound` is not given.
        value: Anything at all.
        bound: The range, when it is not `BOUNDS[name]`.

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
    """List what is wrong with a routine; an empty list means that it can be used."""
    found = list(_tuning_faults(routine.tuning))
    found += _number_faults(routine.tempo)
    for warm_up in routine.warm_ups:
        found += _number_faults(warm_up)
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


def faults_of_client(client: Client) -> list[Fault]:
    """List what is wrong with a client; an empty list means that they can be dosed for."""
    found = list(_number_faults(client.body)) + list(_number_faults(client))
    if client.body.sex not in SEXES:
        found.append(Fault("not_one_of", "sex", client.body.sex, ("female", "male")))
    if not client.arms or set(client.arms) - set(ARMS) or len(set(client.arms)) != len(client.arms):
        found.append(Fault("not_one_of", "arms", client.arms, ARMS))
    return found + list(_weight_faults(client.weights_kg))
