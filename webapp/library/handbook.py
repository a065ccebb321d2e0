"""The handbook: short pages for the client to read. The rules that it tells have their numbers from the core's own figures.

Knows the folder of content and the form of its files.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from pathlib import Path

from webapp.config import content_dir
from webapp.dosing import figures
from webapp.dosing.rules import RULES
from webapp.dosing.settings import Bound, Tuning
from webapp.library.page import Page, Table, open_page
from webapp.library.shelf import Source, the_shelf

NUMBER = Bound(1, 99, "", "own-choice", whole=True)
NOT_SHOWN = "memory"
"""What is known from memory only is never shown to a client as a fact."""


@dataclass(frozen=True)
class Part:
    """A part of a page: a heading, if any; rows of a name and what it means; paragraphs."""

    heading: str | None
    rows: tuple[tuple[str, str], ...]
    text: tuple[str, ...]


@dataclass(frozen=True)
class HandbookPage:
    """One page. Its sentences may have gaps for the numbers of `numbers`.

    Attributes:
        id: The name of its file.
        number: Where it stands among the pages, from 1.
        title: Its heading.
        picture: The name of its picture, if it has one: a movement or "soreness".
        parts: What it says.
        caution: What to take care of.
        sources: What it rests on.
    """

    id: str
    number: int
    title: str
    picture: str | None
    parts: tuple[Part, ...]
    caution: str
    sources: tuple[Source, ...]


def numbers() -> dict[str, int]:
    """Return the numbers that pages name, by the name of the gap. They are those of the rules and of the default routine."""
    tuning, limits = Tuning(), {rule.id: rule.limit for rule in RULES}
    flared, sharp = int(figures.FLARED_RATING.value), int(figures.SHARP_RATING.value)
    return {
        "settled": int(figures.SETTLED_MORNING.value),
        "flared": flared,
        "under_flared": flared - 1,
        "sharp": sharp,
        "under_sharp": sharp - 1,
        "rise": int(figures.FLARED_RISE.value),
        "rise_from": int(figures.FLARED_FROM.value),
        "over": int(figures.FLARED_OVER_USUAL.value),
        "over_from": int(figures.FLARED_OVER_USUAL_FROM.value),
        "tender_days": limits["past-the-cycle"],
        "be_seen": limits["rest-be-seen"],
        "hold": limits["rest-to-hold"],
        "climb_days": tuning.climb_days,
        "heavier_days": tuning.heavier_days,
        "fast_days": tuning.fast_heavier_days,
    }


def read_page(path: Path, sources: Mapping[str, Source]) -> HandbookPage:
    """Read one page; its id is the file's name without the suffix.

    Raises:
        NotAcceptedError: With every fault of the file; a source that is known from memory only is one.
    """
    page, entries = open_page(path)
    table = Table(page, entries)
    table.only("number", "title", "picture", "caution", "sources", "part")
    shown = tuple(key for key, source in sources.items() if source.mark != NOT_SHOWN)
    named = table.names("sources", shown, "not_a_source")
    read = HandbookPage(
        id=path.stem,
        number=table.number("number", bound=NUMBER),
        title=table.text("title"),
        picture=table.text("picture", None) or None,
        parts=tuple(_part(each) for each in table.tables("part")),
        caution=table.text("caution"),
        sources=tuple(sources[key] for key in named if key in shown),
    )
    if not (read.parts and read.sources):
        table.fault("part" if read.sources else "sources", "missing_key")
    page.settle()
    return read


def _part(entry: Table) -> Part:
    entry.only("heading", "row", "text")
    rows = tuple((row.text("name"), row.text("text")) for row in entry.tables("row"))
    return Part(entry.text("heading", None) or None, rows, entry.texts("text"))


@lru_cache(maxsize=4)
def open_handbook(directory: Path) -> tuple[HandbookPage, ...]:
    """Read the folder of pages, in their order.

    Raises:
        NotAcceptedError: With the faults of the first faulty file, or of two pages of one number.
    """
    sources = the_shelf().sources
    pages = sorted((read_page(path, sources) for path in directory.glob("*.toml")), key=lambda page: page.number)
    whole = Page(str(directory))
    for before, after in pairwise(pages):
        Table(whole, {"number": after.number}).number("number", bound=NUMBER._replace(low=before.number + 1))
    whole.settle()
    return tuple(pages)


def the_handbook() -> tuple[HandbookPage, ...]:
    """Return the pages of this installation, in their order."""
    return open_handbook(content_dir() / "handbook")
