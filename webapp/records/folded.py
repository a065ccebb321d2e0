"""How far each client's log has been folded: a cache beside the log, dropped and rebuilt at any time."""

from dataclasses import dataclass

from webapp.records.database import Database


@dataclass(frozen=True)
class Folded:
    """Where a fold stood.

    Attributes:
        through_seq: The last event it had seen.
        day: The local day at whose start it stands.
        accounts: JSON, made and read by the fold.
    """

    through_seq: int
    day: str
    accounts: str


def find(db: Database, client: int) -> Folded | None:
    """Give where a client's fold stood, or None."""
    row = db.execute("SELECT through_seq, day, accounts FROM folded WHERE client = ?", (client,)).fetchone()
    return None if row is None else Folded(*row)


def keep(db: Database, client: int, folded: Folded) -> None:
    """Store where a client's fold stands, inside a write."""
    db.execute(
        "INSERT INTO folded (client, through_seq, day, accounts) VALUES (?, ?, ?, ?) ON CONFLICT (client) DO UPDATE"
        " SET through_seq = excluded.through_seq, day = excluded.day, accounts = excluded.accounts",
        (client, folded.through_seq, folded.day, folded.accounts),
    )
