"""Practices: the name, the zone, how the house is reached, and what it sets for its routines; and who works there.

A practice has one owner or several, and members. Each client belongs to one practitioner.
"""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from webapp.records.database import Database, write

OWNER = "owner"
MEMBER = "member"
ROLES = (OWNER, MEMBER)


@dataclass(frozen=True)
class Practice:
    """A practice.

    Attributes:
        id: The key.
        name: The name that members see.
        zone: The time zone of pages that are about no client.
        telephone: Where clients reach the house; it stands in for a practitioner's own number that is empty.
        hours: When the house can be reached, in a few words.
        tunings: The tunings of a new client's first routine, as far as they differ from the starter's.
        bounds: By name, the least and the greatest value that a routine of this practice may have.
    """

    id: int
    name: str
    zone: str = "UTC"
    telephone: str = ""
    hours: str = ""
    tunings: Mapping[str, float] | None = None
    bounds: Mapping[str, tuple[float, float]] | None = None


@dataclass(frozen=True)
class Colleague:
    """Who works in a practice.

    Attributes:
        id: The practitioner's key.
        name: The name.
        email: The address for signing in.
        role: One of `ROLES`.
        clients: The number of current clients.
        has_password: False until the practitioner has opened the link and set a password.
        has_code: Whether the practitioner has a recovery code; without one, who has a password gets no link for another.
        has_left: Whether the practitioner was removed, and only clients that nobody has taken over keep the line.
    """

    id: int
    name: str
    email: str
    role: str
    clients: int
    has_password: bool
    has_code: bool
    has_left: bool


def begin(db: Database, name: str) -> int:
    """Make a practice, inside a write, and return its key."""
    return int(db.execute("INSERT INTO practices (name) VALUES (?) RETURNING id", (name,)).fetchone()[0])


def find(db: Database, practice: int) -> Practice:
    """Return a practice."""
    row = db.execute(
        "SELECT id, name, zone, telephone, hours, tunings, bounds FROM practices WHERE id = ?", (practice,)
    ).fetchone()
    id_, name, zone, telephone, hours, tunings, bounds = row
    narrowed = {key: (low, high) for key, (low, high) in json.loads(bounds).items()}
    return Practice(id_, name, zone, telephone, hours, json.loads(tunings), narrowed)


def change(db: Database, practice: Practice) -> None:
    """Store a practice as it is from now on."""
    texts = (practice.name, practice.zone, practice.telephone, practice.hours)
    with write(db):
        db.execute(
            "UPDATE practices SET name = ?, zone = ?, telephone = ?, hours = ?, tunings = ?, bounds = ? WHERE id = ?",
            (*texts, json.dumps(practice.tunings or {}), json.dumps(practice.bounds or {}), practice.id),
        )


def colleagues(db: Database, practice: int) -> list[Colleague]:
    """List who works in a practice: the owners first, then by name; also who has left and still has clients."""
    rows = db.execute(
        "SELECT p.id, p.name, p.email, p.role, COUNT(c.id), p.password_hash <> '', p.recovery_hash <> '',"
        " p.removed_at IS NOT NULL FROM practitioners p"
        " LEFT JOIN clients c ON c.practitioner = p.id AND c.ended_at IS NULL"
        " WHERE p.practice = ? GROUP BY p.id HAVING p.removed_at IS NULL OR COUNT(c.id)"
        " ORDER BY p.role = 'owner' DESC, p.name COLLATE NOCASE, p.id",
        (practice,),
    ).fetchall()
    return [_colleague(row) for row in rows]


def colleague(db: Database, practice: int, practitioner: int) -> Colleague | None:
    """Return one of the practice's colleagues; None for anybody else."""
    return next((each for each in colleagues(db, practice) if each.id == practitioner), None)


def _colleague(row: tuple[Any, ...]) -> Colleague:
    id_, name, email, role, clients, *is_so = row
    return Colleague(id_, name, email, role, clients, *map(bool, is_so))
