"""One movement: its words, and reading it from its file.

Knows the form of such a file; the shelf knows where the files are.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from webapp.dosing.settings import DIRECTION_OF, DIRECTIONS
from webapp.library.page import Table, open_page

KINDS = ("warm_up", "lift", "stretch")
OF_MOVEMENTS = ("kind", "direction", "name", "how", "mistakes", "leave_out", "sources", "cues", "purpose")
OF_STRETCHES = ("longest_hold_seconds",)
"""Keys that only stretches may have."""


@dataclass(frozen=True)
class Cues:
    """Short lines to speak: at the start, on the way up, and on the way down."""

    start: str
    up: str
    down: str


@dataclass(frozen=True)
class Purpose:
    """What a movement is for, and the keys of what that rests on."""

    text: str
    sources: tuple[str, ...]


@dataclass(frozen=True)
class Own:
    """What only a movement of a practice's own has.

    Attributes:
        id: Its public id.
        version: Its number, counted from 1.
        like: The shipped movement whose kind, direction, drawing and cautions it has.
        leave_out: The practice's own caution, beside that of the shipped movement, or None.
        arc_up, arc_down: The ends of its arc, in degrees from a straight wrist; None where the drawing has no such end.
        tempo: Its times by name, as `TEMPOS` lists them for its kind (`dosing.own_movements`).
    """

    id: str
    version: int
    like: str
    leave_out: str | None
    arc_up: float | None
    arc_down: float | None
    tempo: Mapping[str, float]


@dataclass(frozen=True)
class Movement:
    """One exercise: its kind, its wrist direction if any, how it is done, common mistakes, spoken cues, and its purpose.

    `leave_out` says who should not do it, if anyone. A stretch may have a longest hold, in seconds; it is never held
    longer. `own` is set where it is a movement of a practice's own; then its texts are shown as they were written.
    """

    id: str
    kind: str
    direction: str | None
    name: str
    how: tuple[str, ...]
    mistakes: tuple[str, ...]
    cues: Cues
    purpose: Purpose
    sources: tuple[str, ...]
    leave_out: str | None = None
    longest_hold_seconds: int | None = None
    own: Own | None = None

    def said(self, say: Callable[[str], str]) -> "Movement":
        """Return the movement in another language; of an own movement only the shipped caution is translated."""
        caution = say(self.leave_out) if self.leave_out else None
        if self.own:
            return replace(self, leave_out=caution)
        return replace(
            self,
            name=say(self.name),
            how=tuple(map(say, self.how)),
            mistakes=tuple(map(say, self.mistakes)),
            cues=Cues(say(self.cues.start), say(self.cues.up), say(self.cues.down)),
            purpose=Purpose(say(self.purpose.text), self.purpose.sources),
            leave_out=caution,
        )


def _read_cues(table: Table) -> Cues:
    table.only("start", "up", "down")
    return Cues(table.text("start"), table.text("up"), table.text("down"))


def _read_purpose(table: Table, sources: Sequence[str]) -> Purpose:
    table.only("text", "sources")
    return Purpose(table.text("text"), table.names("sources", tuple(sources), "not_a_source"))


def read_movement(path: Path, sources: Sequence[str]) -> Movement:
    """Read one movement; its id is the file's name without the suffix.

    Raises:
        NotAcceptedError: With every fault of the file.
    """
    page, entries = open_page(path)
    table = Table(page, entries)
    kind = table.choice("kind", KINDS)
    table.only(*OF_MOVEMENTS, *(OF_STRETCHES if kind == "stretch" else ()))
    movement = Movement(
        id=path.stem,
        kind=kind,
        direction=table.choice("direction", DIRECTIONS, None),
        name=table.text("name"),
        how=table.texts("how"),
        mistakes=table.texts("mistakes"),
        cues=_read_cues(table.table("cues")),
        purpose=_read_purpose(table.table("purpose"), sources),
        sources=table.names("sources", tuple(sources), "not_a_source"),
        leave_out=table.text("leave_out", None) or None,
        longest_hold_seconds=table.number("longest_hold_seconds", None),
    )
    if movement.direction != DIRECTION_OF.get(movement.id):
        table.fault("direction", "not_one_of", (DIRECTION_OF.get(movement.id),))
    page.settle()
    return movement
