"""How long a practice keeps the records of clients who have ended."""

from datetime import date, timedelta

from webapp.records.database import Database, write

_STEADY_SINCE, _STEADY_UNTIL = "steady_since", "steady_until"
MOST_APART = timedelta(days=31)
"""A clock that goes on by more than this from one look to the next, or back, may be wrong (own choice)."""


def years_of(db: Database, practice: int) -> int | None:
    """Return after how many years a practice removes who has ended; None: never by itself."""
    row = db.execute("SELECT keep_years FROM practices WHERE id = ?", (practice,)).fetchone()
    return None if row is None or row[0] is None else int(row[0])


def choose_years(db: Database, practice: int, years: int | None) -> None:
    """Store after how many years a practice removes who has ended; None for never. The days of `steady_days` begin again."""
    with write(db):
        db.execute("DELETE FROM settings WHERE key = ?", (_STEADY_SINCE,))
        db.execute("UPDATE practices SET keep_years = ? WHERE id = ?", (years, practice))


def clients_with_years(db: Database, practice: int | None = None) -> list[tuple[int, str, int]]:
    """List (client's key, name, years) for each client of a practice that removes; of every such practice for None."""
    rows = db.execute(
        "SELECT c.id, c.name, h.keep_years FROM clients c JOIN practitioners p ON p.id = c.practitioner"
        " JOIN practices h ON h.id = p.practice WHERE h.keep_years IS NOT NULL AND (?1 IS NULL OR h.id = ?1) ORDER BY c.id",
        (practice,),
    ).fetchall()
    return [(row[0], row[1], row[2]) for row in rows]


def steady_days(db: Database, today: date) -> int:
    """Note that the clock says this day; return for how many days it has gone steadily, 0 on the first.

    They begin again where the clock jumps, and where a practice chooses other years.
    """
    with write(db):
        known = dict(db.execute("SELECT key, value FROM settings WHERE key IN (?, ?)", (_STEADY_SINCE, _STEADY_UNTIL)))
        until = date.fromisoformat(known.get(_STEADY_UNTIL, today.isoformat()))
        is_steady = _STEADY_SINCE in known and until <= today <= until + MOST_APART
        since = date.fromisoformat(known[_STEADY_SINCE]) if is_steady else today
        for key, day in ((_STEADY_SINCE, since), (_STEADY_UNTIL, today)):
            db.execute(
                "INSERT INTO settings (key, value) VALUES (?, ?) ON CONFLICT (key) DO UPDATE SET value = excluded.value",
                (key, day.isoformat()),
            )
    return (today - since).days
