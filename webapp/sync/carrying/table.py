"""The days of clients as a table (CSV): for each arm and day what was done and rated. It is the form that `library.diary` reads."""

import csv
from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from io import StringIO

from webapp.events.daybook import Known, daybook
from webapp.records import carrying, events
from webapp.records.database import Database
from webapp.sync.folding.checkpoint import FAULTS_OF_A_FOLD
from webapp.sync.log.diary import entries_of, of_phones

COLUMNS = ("on", "arm", "sessions", "during", "morning", "sharp", "done")
ONE_DAY = timedelta(days=1)
WHOLE_SHARE = 1000
UNREADABLE = "unreadable"
# A spreadsheet takes a cell that begins with one of these for a formula.
FORMULA = ("=", "+", "-", "@", "\t", "\r")


def of_client(db: Database, client: int) -> str:
    """Return the table of one client; a diary that is read from it says the same."""
    return "".join([_line(COLUMNS), *map(_line, _rows(db, client))])


def of_clients(db: Database, clients: Sequence[int]) -> Iterator[str]:
    """Write the table of several clients piece by piece, with the client's id and name before the other columns.

    A client whose log cannot be read has one row, with `UNREADABLE` for its day.
    """
    yield _line(("client", "name", *COLUMNS))
    for client in carrying.still_here(db, clients):
        person = carrying.whole_person(db, client)
        yield "".join(_line((person["public_id"], person["name"], *row)) for row in _rows_or_none(db, client))


def _rows_or_none(db: Database, client: int) -> list[tuple[str, ...]]:
    try:
        return list(_rows(db, client))
    except FAULTS_OF_A_FOLD:
        return [(UNREADABLE, *("" for _ in COLUMNS[1:]))]


def _rows(db: Database, client: int) -> Iterator[tuple[str, ...]]:
    book = daybook(of_phones(entries_of(events.of_client(db, client))))
    for arm, days in sorted(book.items()):
        for on in sorted({*days, *(day - ONE_DAY for day, known in days.items() if known.morning is not None)}):
            row = _row(on, arm, days.get(on, Known()), days.get(on + ONE_DAY, Known()))
            if any(row[2:]):
                yield row


def _row(on: date, arm: str, known: Known, after: Known) -> tuple[str, ...]:
    return (
        on.isoformat(),
        arm,
        str(known.sessions) if known.sessions else "",
        _number(known.during) if known.sessions else "",
        _number(after.morning),
        "yes" if known.sharp or after.sharp_morning else "",
        str(_done(known)) if known.sessions else "",
    )


def _done(known: Known) -> int:
    """Return the least share of any direction, per cent."""
    return min((min(share, WHOLE_SHARE) * 100 // WHOLE_SHARE for _, share in known.shares), default=100)


def _number(value: int | None) -> str:
    return "" if value is None else str(value)


def _line(cells: Sequence[str]) -> str:
    written = StringIO()
    csv.writer(written).writerow([f"'{cell}" if cell.startswith(FORMULA) else cell for cell in cells])
    return written.getvalue()
