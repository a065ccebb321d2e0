"""A diary typed in from paper, as CSV: one row for each arm and day.

    on,arm,sessions,during,morning,sharp
    2026-03-02,right,1,2,1,no
    2026-03-03,right,1,,,

`sessions` is how many were done; `during` the worst discomfort in any of them, 0
to 10; `morning` the rating on the morning *after* `on`, 0 to 10; `sharp` yes or
no. An empty cell means none, or no. The first line is that header. Commas only,
UTF-8, any order of rows, any line ends.
"""

import csv
import re
from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from io import StringIO
from pathlib import Path

from webapp.dosing.course import DayFacts
from webapp.dosing.settings import ARMS, BOUNDS, number_fault
from webapp.events.kinds import FIRST_DAY, LAST_DAY
from webapp.library.faults import Fault, NotAcceptedError
from webapp.library.page import read_text

COLUMNS = ("on", "arm", "sessions", "during", "morning", "sharp")
YES_NO = {"yes": True, "no": False, "": False}
_DAY = re.compile(r"\d{4}-\d{2}-\d{2}\Z")
_WHOLE = re.compile(r"-?\d{1,9}\Z")

DAYS = (FIRST_DAY.isoformat(), LAST_DAY.isoformat())
"""The first and the last day that a diary may hold."""

Diary = dict[str, dict[date, DayFacts]]


def day_of(text: str) -> date | None:
    """Read a day of `DAYS` written YYYY-MM-DD; None for anything else."""
    try:
        day = date.fromisoformat(text) if _DAY.match(text) else None
    except ValueError:
        return None
    return day if day and FIRST_DAY <= day <= LAST_DAY else None


class _Row:
    """One row under reading; every cell is checked, whatever the others hold."""

    def __init__(self, file: str, line: int, cells: Mapping[str, str]) -> None:
        self.file, self.line, self.cells = file, line, cells
        self.faults: list[Fault] = []

    def fault(self, key: str, code: str, *rule: object) -> None:
        self.faults.append(Fault(self.file, self.line, key, self.cells[key], code, rule))

    def day(self) -> date | None:
        on = day_of(self.cells["on"])
        if on is None:
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
        value = int(text) if _WHOLE.match(text) else None
        if value is None:
            self.fault(key, "not_whole", bound.low, bound.high, bound.unit)
        elif number_fault(key, value, bound):
            self.fault(key, "out_of_range", bound.low, bound.high, bound.unit)
        return value

    def sharp(self) -> bool:
        if self.cells["sharp"].lower() not in YES_NO:
            self.fault("sharp", "not_yes_or_no")
        return YES_NO.get(self.cells["sharp"].lower(), False)

    def facts(self) -> DayFacts:
        sessions = self.whole("sessions", "sessions")
        facts = DayFacts(
            sessions=sessions or 0,
            during=self.whole("during", "rating"),
            morning=self.whole("morning", "rating"),
            sharp=self.sharp(),
        )
        if not sessions and self.cells["during"]:
            self.fault("during", "during_without_session")
        return facts


def _rows(file: str, text: str) -> Iterator[_Row | Fault]:
    reader = csv.reader(StringIO(text, newline=""))
    header = tuple(cell.strip() for cell in next(reader, []))
    if header != COLUMNS:
        yield Fault(file, 1, "columns", ",".join(header), "wrong_columns", (",".join(COLUMNS),))
        return
    line = reader.line_num + 1
    for cells in reader:
        stripped = [cell.strip() for cell in cells]
        if len(stripped) == len(COLUMNS):
            yield _Row(file, line, dict(zip(COLUMNS, stripped, strict=True)))
        elif any(stripped):
            yield Fault(file, line, "row", ",".join(cells), "wrong_cells", (len(COLUMNS),))
        line = reader.line_num + 1


class _Reading:
    """The diary as far as it has been read."""

    def __init__(self, arms: Sequence[str]) -> None:
        self.arms = arms
        self.diary: Diary = {}
        self.faults: list[Fault] = []
        self._lines: dict[tuple[str, date], int] = {}

    def take(self, row: _Row | Fault) -> None:
        """Take a row, or its faults."""
        if isinstance(row, Fault):
            self.faults.append(row)
            return
        on, arm, facts = row.day(), row.arm(self.arms), row.facts()
        first = self._lines.setdefault((arm, on), row.line) if on else row.line
        if first != row.line:
            row.fault("on", "second_row", arm, first)
        self.faults += row.faults
        if on and not row.faults:
            self.diary.setdefault(arm, {})[on] = facts


def read_diary(text: str, file: str = "", arms: Sequence[str] = ARMS) -> Diary:
    """Read the text of a diary.

    Args:
        text: CSV as the module describes it.
        file: Its name, for faults.
        arms: The arms it may speak of.

    Returns:
        Facts by arm and day.

    Raises:
        NotAcceptedError: With every fault of every row.
    """
    reading = _Reading(arms)
    try:
        for row in _rows(file, text):
            reading.take(row)
    except csv.Error as error:
        reading.faults.append(Fault(file, None, "row", None, "not_csv", (str(error),)))
    if reading.faults:
        raise NotAcceptedError(reading.faults)
    return reading.diary


def load_diary(path: Path, arms: Sequence[str] = ARMS) -> Diary:
    """Read a diary file that may speak of these arms.

    Raises:
        NotAcceptedError: It cannot be read, is not UTF-8, or has faults; all are given.
    """
    return read_diary(read_text(path), str(path), arms)
