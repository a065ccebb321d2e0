"""The practitioners' clients: their names and the answers of their intake.

Every look-up names the practitioner, so that a practitioner cannot read another's case by mistake.
"""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from webapp.records.database import Database, instant, write

_COLUMNS = "id, public_id, name, locale, intake, created_at"


@dataclass(frozen=True)
class Case:
    """A client of a practitioner; `intake` holds the fields of the intake form as they were entered."""

    id: int
    public_id: str
    name: str
    locale: str
    intake: Mapping[str, Any]
    created_at: str

    @property
    def asks_intake(self) -> bool:
        """Whether the client tells the intake on the phone, and it is not confirmed yet; then only the name is known."""
        return bool(self.intake.get("by_client"))


@dataclass(frozen=True)
class Contact:
    """A client's phones: the instant of the last sync (UTC text) or None, the number joined, the number to confirm."""

    phones: int
    last_sync_at: str | None
    to_confirm: int = 0


def _case(row: tuple[Any, ...]) -> Case:
    return Case(row[0], row[1], row[2], row[3], json.loads(row[4]), row[5])


def add(
    db: Database, practitioner: int, public_id: str, name: str, locale: str, intake: Mapping[str, Any], now: datetime
) -> Case:
    """Add a client to a practitioner's caseload.

    Args:
        db: The records.
        practitioner: The practitioner's key.
        public_id: The client's id in addresses and on the phone; unique.
        name: The name as the practitioner writes it.
        locale: The language of the client's phone.
        intake: area, mass_kg, height_m, sex, arms, weights, usual, start_rungs, note.
        now: The instant of the call, with a zone.

    Returns:
        The case as stored.
    """
    with write(db):
        return put(db, practitioner, public_id, name, locale, intake, now)


def put(
    db: Database, practitioner: int, public_id: str, name: str, locale: str, intake: Mapping[str, Any], now: datetime
) -> Case:
    """Add a client inside a write; the arguments are those of `add`."""
    row = db.execute(
        "INSERT INTO clients (public_id, practitioner, name, locale, intake, created_at)"
        f" VALUES (?, ?, ?, ?, ?, ?) RETURNING {_COLUMNS}",
        (public_id, practitioner, name, locale, json.dumps(intake), instant(now)),
    ).fetchone()
    return _case(row)


def asks_intake(db: Database, client: int) -> bool:
    """Whether a client is asked to tell the intake on the phone, and no practitioner has confirmed it yet."""
    row = db.execute("SELECT json_extract(intake, '$.by_client') FROM clients WHERE id = ?", (client,)).fetchone()
    return bool(row and row[0])


def complete(db: Database, client: int, intake: Mapping[str, Any]) -> None:
    """Store, inside a write, the intake that a practitioner has confirmed."""
    db.execute("UPDATE clients SET intake = ? WHERE id = ?", (json.dumps(intake), client))


def rename(db: Database, client: int, name: str) -> None:
    """Store, inside a write, another name of a client."""
    db.execute("UPDATE clients SET name = ? WHERE id = ?", (name, client))


def locale_of(db: Database, client: int) -> str:
    """Return the language in which a client reads."""
    return str(db.execute("SELECT locale FROM clients WHERE id = ?", (client,)).fetchone()[0])


def arms_of(db: Database, client: int) -> list[str]:
    """Return the arms of a client's intake; none where they are not known yet."""
    intake = db.execute("SELECT intake FROM clients WHERE id = ?", (client,)).fetchone()[0]
    return list(json.loads(intake).get("arms", ()))


def choose_locale(db: Database, client: int, locale: str) -> None:
    """Keep the language in which a client's next phone opens; phones that have joined keep their own."""
    with write(db):
        db.execute("UPDATE clients SET locale = ? WHERE id = ?", (locale, client))


def of_practitioner(db: Database, practitioner: int) -> list[Case]:
    """List a practitioner's current clients by name."""
    rows = db.execute(
        f"SELECT {_COLUMNS} FROM clients WHERE practitioner = ? AND ended_at IS NULL ORDER BY name COLLATE NOCASE, id",
        (practitioner,),
    ).fetchall()
    return [_case(row) for row in rows]


def find(db: Database, practitioner: int, public_id: str) -> Case | None:
    """Return one of a practitioner's own clients; None for another practitioner's client or an unknown id."""
    row = db.execute(
        f"SELECT {_COLUMNS} FROM clients WHERE practitioner = ? AND public_id = ? AND ended_at IS NULL",
        (practitioner, public_id),
    ).fetchone()
    return None if row is None else _case(row)


def contacts(db: Database, practitioner: int) -> dict[int, Contact]:
    """Return the contact of each of a practitioner's clients, by the client's key."""
    rows = db.execute(
        "SELECT c.id, COUNT(d.id), MAX(d.last_sync_at), SUM(d.to_confirm) FROM clients c"
        " JOIN devices d ON d.client = c.id AND d.revoked_at IS NULL"
        " WHERE c.practitioner = ? AND c.ended_at IS NULL GROUP BY c.id",
        (practitioner,),
    ).fetchall()
    return {row[0]: Contact(*row[1:]) for row in rows}
