"""The people of the tests: a small cast, the same in every room, each with a story. All of them are invented.

Nothing here touches a database; builders.py puts them into one.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import UTC, date, datetime
from typing import Any

POUND_KG = 0.45359237

# The cast lives in this spring, whatever the calendar on the wall says.
FIRST_DAY = date(2026, 3, 2)
NOW = datetime(2026, 3, 2, 9, 30, tzinfo=UTC)
ZONE = "Europe/Lisbon"


@dataclass(frozen=True)
class Person:
    """A practitioner: name, address, password."""

    name: str
    email: str
    password: str


@dataclass(frozen=True)
class Sufferer:
    """A client and what the intake form holds of them.

    Attributes:
        weights: value and unit of each, as entered; the bare hand among them.
        usual: ordinary morning pain, 0-5.
        start_rung: the rung given to every arm, or None.
        clinician_seen: whether a clinician has seen the arm, which a usual pain of 4 or 5 asks for.
    """

    name: str
    public_id: str
    area: str
    arms: tuple[str, ...]
    mass_kg: float
    height_m: float
    sex: str | None
    weights: tuple[tuple[float, str], ...]
    usual: int = 2
    clinician_seen: bool = False
    start_rung: int | None = None
    note: str = ""
    tuning: Mapping[str, Any] = field(default_factory=dict)

    @property
    def intake(self) -> dict[str, Any]:
        """The intake as the records keep it."""
        plain = ("area", "mass_kg", "height_m", "sex", "usual", "clinician_seen", "note")
        mine = {key: getattr(self, key) for key in plain} | self._start_rungs()
        return {**mine, "arms": list(self.arms), "weights": self._entered()}

    @property
    def settings(self) -> dict[str, Any]:
        """What the core needs to know, as a pushed routine version keeps it."""
        kilograms = sorted(round(value * (POUND_KG if unit == "lb" else 1), 4) for value, unit in self.weights)
        plain = ("mass_kg", "height_m", "sex", "usual", "clinician_seen")
        mine = {key: getattr(self, key) for key in plain} | self._start_rungs()
        return {**mine, "arms": list(self.arms), "weights_kg": kilograms, "weights": self._entered()}

    def _start_rungs(self) -> dict[str, dict[str, int]]:
        return {"start_rungs": dict.fromkeys(self.arms, self.start_rung) if self.start_rung else {}}

    def _entered(self) -> list[dict[str, Any]]:
        return [{"value": value, "unit": unit} for value, unit in self.weights]


# Sees everybody below but the organ builder.
HEDDA = Person("Hedda Marrow", "hedda@marrow.example", "seven brass bells at dawn")
# A colleague with one client of his own, who must not see Hedda's.
JONAS = Person("Jonas Reck", "jonas@reck.example", "a quiet river in october")

# The ordinary case: dresses bronze bells with a file all day; sore outer elbow on the right.
BELL_FOUNDER = Sufferer(
    "Ansgar Tolle", "ansgar0001", "outer_elbow", ("right",), 82.0, 1.81, "male",
    ((0, "lb"), (1, "lb"), (2, "lb"), (3, "lb")),
)  # fmt: skip
# Both arms: sews book blocks with the one and presses with the other; kilograms at home, the first one heavy.
BOOKBINDER = Sufferer(
    "Mirela Quist", "mirela0001", "outer_elbow", ("right", "left"), 58.5, 1.66, "female",
    ((0, "kg"), (0.5, "kg"), (1, "kg")), usual=3,
)  # fmt: skip
# Inner elbow on the left, from the fingering hand; stops at the first sharp pain, as asked.
CELLIST = Sufferer(
    "Isaura Linde", "isaura0001", "inner_elbow", ("left",), 64.0, 1.70, "female", ((0, "kg"), (0.5, "kg")), usual=1
)
# Hauls the ferry's rope; goes silent for days at a time.
FERRY_HAND = Sufferer(
    "Teodor Brand",
    "teodor0001",
    "wrist",
    ("right",),
    90.0,
    1.88,
    None,
    ((0, "lb"), (2, "lb")),
    usual=4,
    clinician_seen=True,
)
# Of another practice.
ORGAN_BUILDER = Sufferer(
    "Livia Korn", "livia00001", "outer_elbow", ("right",), 70.0, 1.75, "female", ((0, "lb"), (1, "lb"))
)
