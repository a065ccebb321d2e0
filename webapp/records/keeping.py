"""How long a practice keeps the records of clients who have ended."""

from webapp.records.database import Database, write


def years_of(db: Database, practice: int) -> int | None:
    """Return after how many years a practice removes who has ended; None: never by itself."""
    row = db.execute("SELECT keep_years FROM practices WHERE id = ?", (practice,)).fetchone()
    return None if row is None or row[0] is None else int(row[0])


def choose_years(db: Database, practice: int, years: int | None) -> None:
    """Store after how many years a practice removes who has ended; None for never."""
    with write(db):
        db.execute("UPDATE practices SET keep_years = ? WHERE id = ?", (years, practice))


def clients_with_years(db: Database, practice: int | None = None) -> list[tuple[int, str, int]]:
    """List (client's key, name, years) for each client of a practice that removes; of every such practice for None."""
    rows = db.execute(
        "SELECT c.id, c.name, h.keep_years FROM clients c JOIN practitioners p ON p.id = c.practitioner"
        " JOIN practices h ON h.id = p.practice WHERE h.keep_years IS NOT NULL AND (?1 IS NULL OR h.id = ?1) ORDER BY c.id",
        (practice,),
    ).fetchall()
    return [(row[0], row[1], row[2]) for row in rows]
