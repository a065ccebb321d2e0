"""The content that comes with the program: sources, movements, warnings, cautions, starters.

The content is read once and cached. Knows the folder of content and the form of its files.
"""

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from pathlib import Path

from webapp.config import content_dir
from webapp.events.kinds import ASK_FIRST, LEVELS
from webapp.library.movement import Movement, read_movement
from webapp.library.page import Table, open_page

MARKS = ("seen", "second-hand", "memory", "common-practice", "derived", "own-choice")


@dataclass(frozen=True)
class Source:
    """The source of a number: author and year, what is taken from it, and how it was seen (of `MARKS`)."""

    key: str
    cite: str
    gives: str
    mark: str


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

    def with_own(self, own: Sequence[Movement]) -> "Shelf":
        """Return a shelf with movements of a practice's own as well; an own lift takes the place of the shipped one."""
        return replace(self, movements={**self.movements, **{each.id: each for each in own}}) if own else self

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
        movements={path.stem: read_movement(path, tuple(sources)) for path in paths},
        warnings=warnings,
        to_do=to_do,
        to_know=to_know,
        caution=_read_caution(directory / "cautions.toml"),
        areas=tuple(sorted(path.stem for path in (directory / "routines").glob("*.toml"))),
    )


def the_shelf() -> Shelf:
    """Return the content of this installation."""
    return open_shelf(content_dir())
