"""The return ladders of this installation: what each step allows and adds, in numbers and in words.

Knows the folder of content and the form of its file; what the numbers do is the core's business.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from webapp.config import content_dir
from webapp.dosing.returning.go import STEP_DAYS_A_WEEK, STEP_MINUTES, STEP_STROKES, ReturnLadder, ReturnStep
from webapp.library.page import Table, open_page
from webapp.library.shelf import Source, the_shelf


@dataclass(frozen=True)
class LadderPage:
    """A return ladder with its words.

    Attributes:
        ladder: Its numbers, as the core reads them.
        name: What it leads back to.
        text: What is counted.
        caution: What to take care of.
        strokes: What is counted beside the minutes, as a word.
        adds: For each step, what it allows more than the step before.
        sources: What it rests on.
    """

    ladder: ReturnLadder
    name: str
    text: str
    caution: str
    strokes: str
    adds: tuple[str, ...]
    sources: tuple[Source, ...]


def _read_step(entry: Table) -> tuple[ReturnStep, str]:
    entry.only("days_a_week", "minutes", "most_strokes", "adds")
    days, minutes = entry.number("days_a_week", bound=STEP_DAYS_A_WEEK), entry.number("minutes", bound=STEP_MINUTES)
    return ReturnStep(days, minutes, entry.number("most_strokes", 0, STEP_STROKES)), entry.text("adds")


def _read_ladder(entry: Table, sources: Mapping[str, Source]) -> LadderPage:
    entry.only("id", "name", "text", "caution", "strokes", "sources", "step")
    steps = [_read_step(step) for step in entry.tables("step")]
    steps_key = entry.at("step")
    if not steps:
        entry.page.fault(steps_key, None, "missing_key")
    return LadderPage(
        ReturnLadder(entry.text("id"), tuple(step for step, _ in steps)),
        entry.text("name"),
        entry.text("text"),
        entry.text("caution"),
        entry.text("strokes"),
        tuple(adds for _, adds in steps),
        tuple(sources[key] for key in entry.names("sources", tuple(sources), "not_a_source") if key in sources),
    )


@lru_cache(maxsize=4)
def open_ladders(directory: Path) -> dict[str, LadderPage]:
    """Read the return ladders of a folder of content, by id, in the order of the file.

    Raises:
        NotAcceptedError: With every fault of the file.
    """
    page, entries = open_page(directory / "ladders.toml")
    table = Table(page, entries)
    table.only("ladder")
    ladders = [_read_ladder(entry, the_shelf().sources) for entry in table.tables("ladder")]
    for number, each in enumerate(ladders):
        if each.ladder.id in {other.ladder.id for other in ladders[:number]}:
            page.fault(f"ladder[{number + 1}].id", each.ladder.id, "twice")
    page.settle()
    return {each.ladder.id: each for each in ladders}


def the_ladders() -> dict[str, LadderPage]:
    """Return the return ladders of this installation by id."""
    return open_ladders(content_dir())
