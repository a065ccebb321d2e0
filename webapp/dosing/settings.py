"""What the practitioner sets: a routine, and the client it is for.

All bounds are in this module. Building a value checks nothing; the functions of `faults`
return every fault of a value.
"""

from dataclasses import dataclass, field
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
    "widen_days": Bound(3, 7, "settled days", "magnusson-2010"),
    "climb_days": Bound(3, 7, "settled days", "magnusson-2010"),
    "heavier_days": Bound(7, 14, "settled days", "peterson-2011"),
    "fast_heavier_days": Bound(5, 14, "settled days", "own-choice"),
    "top_share": Bound(0.30, 0.40, "of the estimated maximum", "own-choice", whole=False),
    "first_week_sessions": Bound(1, 3, "sessions a day", "common-practice"),
    "hold_shortest_seconds": Bound(20, 45, "seconds", "common-practice"),
    "hold_longest_seconds": Bound(20, 60, "seconds", "common-practice"),
    "longest_hold_seconds": Bound(10, 60, "seconds", "acsm-2011"),
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
    "ease": Bound(1, 2, "steps", "common-practice"),
    "reps": Bound(1, 50, "reps", "common-practice"),
    "seconds_each": Bound(0.5, 10, "seconds", "common-practice", whole=False),
    "sessions": Bound(0, 6, "sessions a day", "own-choice"),
    "done": Bound(0, 100, "per cent of the day's asked work", "own-choice"),
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
    """The settings that a practitioner may change, each within its entry in `BOUNDS`."""

    low_reps: int = 8
    goal_reps: int = 20
    rise: float = 0.25
    settled_during: int = 3
    widen_days: int = 3
    climb_days: int = 3
    heavier_days: int = 7
    fast_heavier_days: int = 5
    top_share: float = 0.35
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
class Stretch:
    """One stretch. It is never held longer than `longest_hold_seconds`, where there is such a limit."""

    movement: str
    longest_hold_seconds: int | None = None


@dataclass(frozen=True)
class OwnLift:
    """A movement of the practice's own that takes the place of a shipped lift: its tempo, and the ends of its arc in degrees from level.

    Attributes:
        movement: The shipped lift, a key of `DIRECTION_OF`. The rules count the own movement as that lift.
        up_seconds, down_seconds: The two parts of one rep.
        arc_up, arc_down: Degrees above and below level at full range.
    """

    movement: str
    up_seconds: float
    down_seconds: float
    arc_up: float
    arc_down: float


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
    stretches: tuple[Stretch, ...] = (Stretch("stretch_palm_down"), Stretch("stretch_palm_up"))
    own: tuple[OwnLift, ...] = ()

    def own_lift(self, movement: str) -> OwnLift | None:
        """Return the own movement that takes the place of a shipped lift, or None."""
        return next((each for each in self.own if each.movement == movement), None)


class StartRungs(NamedTuple):
    """The rung that the practitioner chose for each arm to begin on; None where there is no choice."""

    right: int | None = None
    left: int | None = None

    def of(self, arm: str) -> int | None:
        """Return the rung chosen for an arm, or None."""
        return self[ARMS.index(arm)]


NONE_GIVEN = StartRungs()


class EasesByHand(NamedTuple):
    """The least step of ease that the practitioner set for each arm, 1 or 2; None where nothing was set."""

    right: int | None = None
    left: int | None = None

    def of(self, arm: str) -> int | None:
        """Return the step set for an arm, or None."""
        return self[ARMS.index(arm)]


NONE_EASED = EasesByHand()


@dataclass(frozen=True)
class Client:
    """The client that a routine is for.

    Attributes:
        body: The client's body.
        arms: Of `ARMS`.
        weights_kg: The weights at home, 0 among them.
        usual: Usual morning pain, 0 to 3; 4 or 5 only where a clinician has seen the arm.
        start_rungs: The rung to begin on, arm by arm; without a choice the default (see `plan.start_rung`).
        clinician_seen: Whether the practitioner has ticked that a clinician has seen the arm.
        eases: From the day on which this routine comes, each arm is eased at least so far; the rules widen it again.
    """

    body: Body
    arms: tuple[str, ...] = ("right",)
    weights_kg: tuple[float, ...] = (0.0,)
    usual: int = 0
    start_rungs: StartRungs = NONE_GIVEN
    clinician_seen: bool = False
    eases: EasesByHand = NONE_EASED
