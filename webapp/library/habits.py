"""Habits and aids: what a practitioner may choose for a client's day, one at a time. None of them changes a dose.

Knows the folder of content and the form of its files.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from webapp.config import content_dir
from webapp.library.page import Table, open_page
from webapp.library.shelf import Source, the_shelf


@dataclass(frozen=True)
class Habit:
    """One habit.

    Attributes:
        id: Its stable name.
        name: What it is called.
        text: What to do.
        caution: What to take care of.
        sources: What it rests on.
    """

    id: str
    name: str
    text: str
    caution: str
    sources: tuple[Source, ...]


def _read_habit(entry: Table, sources: Mapping[str, Source]) -> Habit:
    entry.only("id", "name", "text", "caution", "sources")
    return Habit(
        id=entry.text("id"),
        name=entry.text("name"),
        text=entry.text("text"),
        caution=entry.text("caution"),
        sources=tuple(sources[key] for key in entry.names("sources", tuple(sources), "not_a_source") if key in sources),
    )


@lru_cache(maxsize=4)
def open_habits(directory: Path) -> tuple[Habit, ...]:
    """Read the habits of a folder of content, in the order of the file.

    Raises:
        NotAcceptedError: With every fault of the file.
    """
    page, entries = open_page(directory / "habits.toml")
    table = Table(page, entries)
    table.only("habit")
    habits = tuple(_read_habit(entry, the_shelf().sources) for entry in table.tables("habit"))
    page.settle()
    return habits


def the_habits() -> dict[str, Habit]:
    """Return the habits of this installation by id."""
    return {habit.id: habit for habit in open_habits(content_dir())}
