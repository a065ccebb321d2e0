"""The history of a practice: who did what, and when. No row holds anything about a client's health."""

from dataclasses import dataclass
from datetime import datetime

from webapp.records.database import Database, instant, write

OF_EVERYBODY = "practice.records.carry_practice*"
"""Deeds that concern the clients of everybody in the practice, so each member reads of them."""


@dataclass(frozen=True)
class Deed:
    """One thing that somebody did.

    Attributes:
        id: The key; a later deed has a greater one.
        at: The instant, UTC text.
        who: The name of the practitioner.
        act: The name of the page or act of the desk, as in `endpoint`.
        client: The name of the client that it was about, or "".
    """

    id: int
    at: str
    who: str
    act: str
    client: str


def note(db: Database, practitioner: int, act: str, now: datetime, client: int | None = None) -> None:
    """Keep what a practitioner did just now; `client` is the key of the client that it was about.

    A client who was deleted by it is not named.
    """
    with write(db):
        db.execute(
            "INSERT INTO history (practice, practitioner, what, client, at)"
            " SELECT practice, id, ?, (SELECT c.id FROM clients c WHERE c.id = ?), ? FROM practitioners WHERE id = ?",
            (act, client, instant(now), practitioner),
        )


def of_practice(db: Database, practice: int, before: int, most: int, only: int | None = None) -> list[Deed]:
    """List what was done in a practice, the latest first.

    Args:
        db: The records.
        practice: The practice's key.
        before: Only deeds with a smaller key.
        most: How many at most.
        only: The key of the one practitioner whose deeds are listed, beside those that concern everybody's clients; None for all.
    """
    rows = db.execute(
        "SELECT h.id, h.at, p.name, h.what, COALESCE(c.name, '') FROM history h"
        " JOIN practitioners p ON p.id = h.practitioner LEFT JOIN clients c ON c.id = h.client"
        " WHERE h.practice = ?1 AND h.id < ?2 AND (?3 IS NULL OR h.practitioner = ?3 OR h.what GLOB ?5) ORDER BY h.id DESC LIMIT ?4",
        (practice, before, only, most, OF_EVERYBODY),
    ).fetchall()
    return [Deed(*row) for row in rows]
