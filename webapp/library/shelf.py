"""The content that comes with the program: sources, movements, warnings, cautions, starters.

The content is read once and cached. Knows the folder of content and the form of its files.
"""

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property, lru_cache
from pathlib import Path

from webapp.config import content_dir
from webapp.dosing.settings import DIRECTION_OF, DIRECTIONS
from webapp.events.kinds import ASK_FIRST, LEVELS
from webapp.library.page import Table, open_page

KINDS = ("warm_up", "lift", "stretch")
OF_MOVEMENTS = ("kind", "direction", "name", "how", "mistakes", "leave_out", "sources", "cues", "purpose")
OF_STRETCHES = ("longest_hold_seconds",)
"""Keys that only stretches may have."""
MARKS = ("seen", "second-hand", "memory", "common-practice", "derived", "own-choice")


@dataclass(frozen=True)
class Source:
    """The source of a number: author and year, what is taken from it, and how it was seen (of `MARKS`)."""

    key: str
    cite: str
    gives: str
    mark: str


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
class Movement:
    """One exercise: its kind, its wrist direction if any, how it is done, common mistakes, spoken cues, and its purpose.

    `leave_out` says who should not do it, if anyone. A stretch may have a longest hold, in seconds; it is never held
    longer.
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


@dataclass(frozen=True)
class Warning:  # noqa: A001 - the trade's word: a warning sign
    """A sign that something must be looked at.

    Attributes:
        id: Its stable name.
        level: One of `LEVELS`.
        is_whole: Whether the sign is about the whole body. Then the client is asked for no arm, and both arms are held.
        text: The text that the client reads.
        sources: Keys of its sources.
    """

    id: str
    level: str
    is_whole: bool
    text: str
    sources: tuple[str, ...]

    @property
    def holds(self) -> bool:
        """Whether a report of this sign holds the arm until the practitioner releases it."""
        return self.level != ASK_FIRST


@dataclass(frozen=True)
class Caution:
    """The safety notice: a short text, and the full text in paragraphs."""

    short: str
    notice: tuple[str, ...]


@dataclass(frozen=True)
class Shelf:
    """Everything that comes with the program, by id.

    Attributes:
        sources: By key.
        movements: By id.
        warnings: The warning signs.
        to_do: What the client should do, by level of warning sign.
        to_know: A note shown below that, for the levels that have one.
        caution: The safety notice.
        areas: The names of the starter routines.
    """

    sources: Mapping[str, Source]
    movements: Mapping[str, Movement]
    warnings: tuple[Warning, ...]
    to_do: Mapping[str, str]
    to_know: Mapping[str, str]
    caution: Caution
    areas: tuple[str, ...]

    def of_kind(self, kind: str) -> tuple[str, ...]:
        """List the ids of the movements of one kind."""
        return tuple(sorted(id_ for id_, movement in self.movements.items() if movement.kind == kind))

    @cached_property
    def signs_mark(self) -> str:
        """Return a short hash of the list of warning signs; it changes with every change of a sign or of its level."""
        listed = repr([(sign.id, sign.level, sign.is_whole, sign.text) for sign in self.warnings])
        return hashlib.sha256(listed.encode()).hexdigest()[:16]

    def level_of(self, sign: str) -> str | None:
        """Return the level of a warning sign by its id, or None where the id is unknown."""
        return next((each.level for each in self.warnings if each.id == sign), None)


def _read_sources(path: Path) -> dict[str, Source]:
    page, entries = open_page(path)
    read = {}
    for key, entry in entries.items():
        table = Table(page, entry, key)
        table.only("cite", "gives", "mark")
        read[key] = Source(key, table.text("cite"), table.text("gives"), table.choice("mark", MARKS))
    page.settle()
    return read


def _read_cues(table: Table) -> Cues:
    table.only("start", "up", "down")
    return Cues(table.text("start"), table.text("up"), table.text("down"))


def _read_purpose(table: Table, sources: Mapping[str, Source]) -> Purpose:
    table.only("text", "sources")
    return Purpose(table.text("text"), table.names("sources", tuple(sources), "not_a_source"))


def read_movement(path: Path, sources: Mapping[str, Source]) -> Movement:
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


def _read_warning(entry: Table, sources: Mapping[str, Source]) -> Warning:
    entry.only("id", "level", "whole", "text", "sources")
    return Warning(
        id=entry.text("id"),
        level=entry.choice("level", LEVELS),
        is_whole=entry.truth("whole", default=False),
        text=entry.text("text"),
        sources=entry.names("sources", tuple(sources), "not_a_source"),
    )


def _read_warnings(
    path: Path, sources: Mapping[str, Source]
) -> tuple[tuple[Warning, ...], dict[str, str], dict[str, str]]:
    page, entries = open_page(path)
    table = Table(page, entries)
    table.only("warning", "do", "note")
    signs = tuple(_read_warning(entry, sources) for entry in table.tables("warning"))
    acts, notes = table.table("do"), table.table("note")
    acts.only(*LEVELS)
    notes.only(*LEVELS)
    to_do = {level: acts.text(level) for level in LEVELS}
    to_know = {level: notes.text(level) for level in notes.entries}
    page.settle()
    return signs, to_do, to_know


def _read_caution(path: Path) -> Caution:
    page, entries = open_page(path)
    table = Table(page, entries)
    table.only("short", "notice")
    caution = Caution(table.text("short"), table.texts("notice"))
    page.settle()
    return caution


@lru_cache(maxsize=4)
def open_shelf(directory: Path) -> Shelf:
    """Read a folder of content.

    Raises:
        NotAcceptedError: With every fault of the first faulty file.
    """
    sources = _read_sources(directory / "sources.toml")
    paths = sorted((directory / "movements").glob("*.toml"))
    warnings, to_do, to_know = _read_warnings(directory / "warnings.toml", sources)
    return Shelf(
        sources=sources,
        movements={path.stem: read_movement(path, sources) for path in paths},
        warnings=warnings,
        to_do=to_do,
        to_know=to_know,
        caution=_read_caution(directory / "cautions.toml"),
        areas=tuple(sorted(path.stem for path in (directory / "routines").glob("*.toml"))),
    )


def the_shelf() -> Shelf:
    """Return the content of this installation."""
    return open_shelf(content_dir())
