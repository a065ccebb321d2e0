"""A diary typed in from paper, as CSV: one row for each arm and day.

    on,arm,sessions,during,morning,sharp,done,release
    2026-03-02,right,1,2,1,no,,
    2026-03-03,right,1,,,,50,
    2026-03-04,right,,,4,yes,,2@0.75

`sessions` is how many sessions were done. `during` is the worst discomfort in
any of them, 0 to 10. `morning` is the rating on the morning *after* `on`, 0 to
10. `sharp` is yes or no. `done` is how much of the day's asked work was done, in
per cent; an empty cell means all of it. `release` ends a hold from the next day
on: the rung, and after @ the range (0.75 or 0.5); without @ it is the widest
range allowed. A release that asks more than the rules allow counts as the most
that they allow. Any other empty cell means none, or no. The first line is the
header above; the columns done and release may be left out. Cells are separated
by commas, or all of them by semicolons or tabs, as some spreadsheets write them.
The text is UTF-8, and rows may be in any order. Empty rows are passed over.
"""

import csv
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from io import StringIO
from pathlib import Path

from webapp.dosing.course import ONE_DAY, DayFacts
from webapp.dosing.dose import ease_of
from webapp.dosing.faults import number_fault
from webapp.dosing.figures import ENOUGH_DONE
from webapp.dosing.release import Return
from webapp.dosing.responses import ENOUGH, NONE, PART
from webapp.dosing.settings import ARMS, BOUNDS
from webapp.events.kinds import FIRST_DAY, LAST_DAY
from webapp.library.faults import FileFault, NotAcceptedError
from webapp.library.page import read_text

COLUMNS = ("on", "arm", "sessions", "during", "morning", "sharp")
MORE_COLUMNS = ("done", "release")
HEADERS = tuple((*COLUMNS, *more) for more in ((), MORE_COLUMNS, MORE_COLUMNS[:1], MORE_COLUMNS[1:]))
WHOLE_PER_CENT = 100
YES_NO = {"yes": True, "no": False, "": False}
_DAY = re.compile(r"\d{4}-\d{2}-\d{2}\Z")
_WHOLE = re.compile(r"(-?\d{1,9})(?:[.,]0+)?\Z")
"""A spreadsheet may write 2 as 2.0 or 2,0."""
_IN_TWO_WAYS = re.compile(r"\d{1,2}[./-]\d{1,2}[./-]\d{2,4}\Z")
"""Such as 3.11.2026 or 11/3/2026: people of one country read the month where others read the day."""
SEPARATORS = (",", ";", "\t")

DAYS = (FIRST_DAY.isoformat(), LAST_DAY.isoformat())
"""The first and the last day that a diary may hold."""

_RELEASE = re.compile(r"(\d{1,3})(?:@(1|1\.0|0\.75|0\.5))?\Z")
_WIDEST_EASE = 1
"""The ease of a release that names no range: the widest range that any release allows."""


@dataclass(frozen=True)
class PaperDiary:
    """The contents of a diary, by arm.

    Attributes:
        facts: The facts of each day, by arm and day.
        releases: The return that each release chose, by arm and by the day at whose start the hold ends.
        shares: How much of a day's asked work was done, per cent, by arm and by each day with a session.
    """

    facts: dict[str, dict[date, DayFacts]] = field(default_factory=dict)
    releases: dict[str, dict[date, Return]] = field(default_factory=dict)
    shares: dict[str, dict[date, int]] = field(default_factory=dict, compare=False)


def day_of(text: str) -> date | None:
    """Return the date of a text YYYY-MM-DD within `DAYS`, or None for any other text."""
    try:
        day = date.fromisoformat(text) if _DAY.match(text) else None
    except ValueError:
        return None
    return day if day and FIRST_DAY <= day <= LAST_DAY else None


class _Row:
    """One row that is being read. Every cell is checked, even where another cell has a fault."""

    def __init__(self, file: str, line: int, cells: Mapping[str, str]) -> None:
        self.file, self.line, self.cells = file, line, cells
        self.faults: list[FileFault] = []

    def fault(self, key: str, code: str, *rule: object) -> None:
        self.faults.append(FileFault(self.file, self.line, key, self.cells[key], code, rule))

    def day(self) -> date | None:
        on = day_of(self.cells["on"])
        if on is None and _IN_TWO_WAYS.match(self.cells["on"]):
            self.fault("on", "day_in_two_ways")
        elif on is None:
            self.fault("on", "not_a_day", *DAYS)
        return on

    def arm(self, arms: Sequence[str]) -> str:
        if self.cells["arm"] not in arms:
            self.fault("arm", "not_one_of", *arms)
        return self.cells["arm"]

    def whole(self, key: str, bound_name: str) -> int | None:
        text = self.cells[key]
        if not text:
            return None
        bound = BOUNDS[bound_name]
        found = _WHOLE.match(text)
        value = int(found[1]) if found else None
        if value is None:
            self.fault(key, "not_whole", bound.low, bound.high, bound.unit)
        elif number_fault(key, value, bound):
            self.fault(key, "out_of_range", bound.low, bound.high, bound.unit)
        return value

    def sharp(self) -> bool:
        if self.cells["sharp"].lower() not in YES_NO:
            self.fault("sharp", "not_yes_or_no")
        return YES_NO.get(self.cells["sharp"].lower(), False)

    def done(self, sessions: int) -> str:
        """Return how much was done, of `responses.DONE_AXIS`; an empty cell means all of it."""
        per_cent = self.whole("done", "done")
        if per_cent and not sessions:
            self.fault("done", "done_without_session")
        if not sessions or per_cent == 0:
            return NONE
        return ENOUGH if per_cent is None or per_cent >= 100 * ENOUGH_DONE.value else PART

    def release(self) -> Return | None:
        text = self.cells["release"]
        found = _RELEASE.match(text)
        if text and not (found and int(found[1])):
            self.fault("release", "not_a_release")
        if not found:
            return None
        return Return(int(found[1]), ease_of(float(found[2])) if found[2] else _WIDEST_EASE)

    def facts(self) -> DayFacts:
        sessions = self.whole("sessions", "sessions") or 0
        during = self.whole("during", "rating")
        done = self.done(sessions)
        facts = DayFacts(
            sessions=sessions if done != NONE else 0,
            done=done,
            during=during,
            is_unrated=done != NONE and during is None,
            morning=self.whole("morning", "rating"),
            sharp=self.sharp(),
        )
        if not sessions and self.cells["during"]:
            self.fault("during", "during_without_session")
        return facts


def _rows(file: str, text: str) -> Iterator[_Row | FileFault]:
    reader = csv.reader(StringIO(text, newline=""), delimiter=_separator(text))
    header = tuple(cell.strip() for cell in next(reader, []))
    if header not in HEADERS:
        rule = (",".join(COLUMNS), ",".join(MORE_COLUMNS))
        yield FileFault(file, 1, "columns", ",".join(header), "wrong_columns", rule)
        return
    left_out = dict.fromkeys(MORE_COLUMNS, "")
    line = reader.line_num + 1
    for cells in reader:
        stripped = [cell.strip() for cell in cells]
        if any(stripped) and len(stripped) == len(header):
            yield _Row(file, line, left_out | dict(zip(header, stripped, strict=True)))
        elif any(stripped):
            yield FileFault(file, line, "row", ",".join(cells), "wrong_cells", (len(header),))
        line = reader.line_num + 1


def _separator(text: str) -> str:
    """Return what stands between the cells of the first line."""
    first = text.split("\n", 1)[0]
    found = (
        (each, tuple(cell.strip() for cell in next(csv.reader([first], delimiter=each), []))) for each in SEPARATORS
    )
    return next((each for each, header in found if header in HEADERS), SEPARATORS[0])


class _Reading:
    """Collects the rows of a diary and their faults."""

    def __init__(self, arms: Sequence[str]) -> None:
        self.arms = arms
        self.diary = PaperDiary()
        self.faults: list[FileFault] = []
        self._lines: dict[tuple[str, date], int] = {}

    def take(self, row: _Row | FileFault) -> None:
        """Add one row to the diary, or its faults to the list."""
        if isinstance(row, FileFault):
            self.faults.append(row)
            return
        on, arm, facts, release = row.day(), row.arm(self.arms), row.facts(), row.release()
        first = self._lines.setdefault((arm, on), row.line) if on else row.line
        if first != row.line:
            row.fault("on", "second_row", arm, first)
        self.faults += row.faults
        if on and not row.faults:
            self.diary.facts.setdefault(arm, {})[on] = facts
            if facts.sessions:
                self.diary.shares.setdefault(arm, {})[on] = row.whole("done", "done") or WHOLE_PER_CENT
            if release:
                self.diary.releases.setdefault(arm, {})[on + ONE_DAY] = release


def read_diary(text: str, file: str = "", arms: Sequence[str] = ARMS) -> PaperDiary:
    """Read the text of a diary.

    Args:
        text: CSV, in the format that the module docstring describes.
        file: The name of the file, for faults.
        arms: The arms that may occur.

    Returns:
        Facts and releases by arm and day.

    Raises:
        NotAcceptedError: With every fault of every row.
    """
    reading = _Reading(arms)
    try:
        for row in _rows(file, text):
            reading.take(row)
    except csv.Error as error:
        reading.faults.append(FileFault(file, None, "row", None, "not_csv", (str(error),)))
    if reading.faults:
        raise NotAcceptedError(reading.faults)
    return reading.diary


def load_diary(path: Path, arms: Sequence[str] = ARMS) -> PaperDiary:
    """Read a diary file in which these arms may occur.

    Raises:
        NotAcceptedError: The file cannot be read, is not UTF-8, or has faults. The error holds all of them.
    """
    return read_diary(read_text(path), str(path), arms)
