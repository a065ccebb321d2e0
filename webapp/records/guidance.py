"""A cache of the anchors in the last sync answer to each client's phones.

Anchors are stale as soon as the day, the events, the routine version or the bundle differ; stale anchors are not found.
"""

from dataclasses import dataclass

from webapp.records.database import Database


@dataclass(frozen=True)
class StoredGuidance:
    """The anchors of one sync answer.

    Attributes:
        client: The client's key.
        locale: The language of the phone.
        on_day: The phone's day.
        through_seq: The number of the last event from which the anchors were computed, 0 for none.
        version: The newest routine version.
        bundle_hash: The hash of the bundle whose almanac the anchors point into.
        anchors: JSON, as it is sent.
    """

    client: int
    locale: str
    on_day: str
    through_seq: int
    version: int
    bundle_hash: str
    anchors: str


def keep(db: Database, guidance: StoredGuidance) -> None:
    """Store anchors inside a write; they replace the client's earlier anchors in the same language."""
    db.execute(
        "INSERT INTO guidance (client, locale, on_day, through_seq, version, bundle_hash, anchors)"
        " VALUES (?, ?, ?, ?, ?, ?, ?) ON CONFLICT (client, locale) DO UPDATE SET on_day = excluded.on_day,"
        " through_seq = excluded.through_seq, version = excluded.version, bundle_hash = excluded.bundle_hash,"
        " anchors = excluded.anchors",
        (
            guidance.client,
            guidance.locale,
            guidance.on_day,
            guidance.through_seq,
            guidance.version,
            guidance.bundle_hash,
            guidance.anchors,
        ),
    )


def find(db: Database, client: int, locale: str, on_day: str, through_seq: int) -> StoredGuidance | None:
    """Return the anchors of a client's day, or None if they are missing or stale."""
    row = db.execute(
        "SELECT g.client, g.locale, g.on_day, g.through_seq, g.version, g.bundle_hash, g.anchors FROM guidance g"
        " JOIN bundles b ON b.client = g.client AND b.version = g.version AND b.locale = g.locale"
        " AND b.hash = g.bundle_hash WHERE g.client = ? AND g.locale = ? AND g.on_day = ? AND g.through_seq = ?"
        " AND g.version = (SELECT MAX(version) FROM routine_versions WHERE client = g.client)",
        (client, locale, on_day, through_seq),
    ).fetchone()
    return None if row is None else StoredGuidance(*row)
