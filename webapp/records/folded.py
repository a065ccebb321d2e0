"""A cache of the fold of each client's log up to a day; it may be dropped and rebuilt at any time."""

from dataclasses import dataclass

from webapp.records.database import Database


@dataclass(frozen=True)
class Folded:
    """The stored result of a fold.

    Attributes:
        through_seq: The number of the last event that was folded.
        day: The fold has closed all days before this local day.
        accounts: JSON, written and read by `sync/folding/checkpoint.py`.
    """

    through_seq: int
    day: str
    accounts: str


def find(db: Database, client: int) -> Folded | None:
    """Return a client's stored fold, or None."""
    row = db.execute("SELECT through_seq, day, accounts FROM folded WHERE client = ?", (client,)).fetchone()
    return None if row is None else Folded(*row)


def keep(db: Database, client: int, folded: Folded) -> None:
    """Store a client's fold, inside a write."""
    db.execute(
        "INSERT INTO folded (client, through_seq, day, accounts) VALUES (?, ?, ?, ?) ON CONFLICT (client) DO UPDATE"
        " SET through_seq = excluded.through_seq, day = excluded.day, accounts = excluded.accounts",
        (client, folded.through_seq, folded.day, folded.accounts),
    )
