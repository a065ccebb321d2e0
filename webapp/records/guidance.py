"""What the last sync told each client's phones about where the arms stand: a cache beside the log.

It is found again only while it is true: same day, same events, same routine version, same bundle.
"""

from dataclasses import dataclass

from webapp.records.database import Database


@dataclass(frozen=True)
class StoredGuidance:
    """The anchors of one answer.

    Attributes:
        client, locale: Whose, and in which language their phone is.
        on_day: The phone's day.
        through_seq: The last event of the log that the anchors were made from, 0 for none.
        version: The newest routine version.
        bundle_hash: Of the bundle whose almanac the anchors point into.
        anchors: JSON, as it is sent.
    """

    client: int
    locale: str
    on_day: str
    through_seq: int
    version: int
    bundle_hash: str
    anchors: str


def keep(db: Database, told: StoredGuidance) -> None:
    """Store anchors in place of the ones before, inside a write."""
    db.execute(
        "INSERT INTO guidance (client, locale, on_day, through_seq, version, bundle_hash, anchors)"
        " VALUES (?, ?, ?, ?, ?, ?, ?) ON CONFLICT (client, locale) DO UPDATE SET on_day = excluded.on_day,"
        " through_seq = excluded.through_seq, version = excluded.version, bundle_hash = excluded.bundle_hash,"
        " anchors = excluded.anchors",
        (told.client, told.locale, told.on_day, told.through_seq, told.version, told.bundle_hash, told.anchors),
    )


def find(db: Database, client: int, locale: str, on_day: str, through_seq: int) -> StoredGuidance | None:
    """Return the anchors of a client's day, or None where they must be worked out anew."""
    row = db.execute(
        "SELECT g.client, g.locale, g.on_day, g.through_seq, g.version, g.bundle_hash, g.anchors FROM guidance g"
        " JOIN bundles b ON b.client = g.client AND b.version = g.version AND b.locale = g.locale"
        " AND b.hash = g.bundle_hash WHERE g.client = ? AND g.locale = ? AND g.on_day = ? AND g.through_seq = ?"
        " AND g.version = (SELECT MAX(version) FROM routine_versions WHERE client = g.client)",
        (client, locale, on_day, through_seq),
    ).fetchone()
    return None if row is None else StoredGuidance(*row)
