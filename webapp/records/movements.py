"""The movements of a practice's own, in immutable numbered versions. They hold nothing of a client."""

import json
import secrets
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from webapp.records.database import Database, instant, write

ID_BYTES = 10


class ChangedMeanwhileError(Exception):
    """Another version was saved since the practitioner looked."""


@dataclass(frozen=True)
class OwnMovement:
    """A movement of a practice's own, in one version.

    Attributes:
        id: The key.
        public_id: The id in addresses and in the routines that carry a copy.
        version: The number, counted from 1.
        content: What it says, as `library.own_movement` has it, without id and version.
        made_at: The instant of this version, UTC text.
        by: The name of who saved this version; "" where it came with a file.
        retired_at: The instant from which it is no longer offered, UTC text, or None.
    """

    id: int
    public_id: str
    version: int
    content: Mapping[str, Any]
    made_at: str
    by: str
    retired_at: str | None

    @property
    def entries(self) -> dict[str, Any]:
        """The whole of it, as a routine carries it."""
        return {"id": self.public_id, "version": self.version, **self.content}


@dataclass(frozen=True)
class User:
    """A client whose newest routine carries a movement: public id, name, and the version that it carries."""

    public_id: str
    name: str
    version: int


_FOUND = (
    "SELECT m.id, m.public_id, v.version, v.content, v.made_at, COALESCE(p.name, ''), m.retired_at FROM movements m"
    " JOIN movement_versions v ON v.movement = m.id LEFT JOIN practitioners p ON p.id = v.made_by WHERE m.practice = ?"
)
_NEWEST = " AND v.version = (SELECT MAX(version) FROM movement_versions WHERE movement = m.id)"


def make(db: Database, practice: int, content: Mapping[str, Any], by: int, key: str, now: datetime) -> str:
    """Make a movement, and return its public id; the same key of a form makes one movement only, and changes none."""
    with write(db):
        found = of_form(db, practice, key)
        return found.public_id if found else _put(db, practice, secrets.token_hex(ID_BYTES), content, by, key, now)


def _put(
    db: Database, practice: int, public_id: str, content: Mapping[str, Any], by: int | None, key: str, now: datetime
) -> str:
    row = db.execute(
        "INSERT INTO movements (practice, public_id, form_key) VALUES (?, ?, ?) RETURNING id",
        (practice, public_id, key),
    ).fetchone()
    _put_version(db, row[0], 1, content, by, now)
    return public_id


def _put_version(
    db: Database, movement: int, version: int, content: Mapping[str, Any], by: int | None, now: datetime
) -> None:
    db.execute(
        "INSERT INTO movement_versions (movement, version, content, made_at, made_by) VALUES (?, ?, ?, ?, ?)",
        (movement, version, json.dumps(content), instant(now), by),
    )


def change(
    db: Database, practice: int, public_id: str, content: Mapping[str, Any], by: int, based_on: int, now: datetime
) -> OwnMovement:
    """Save the next version of a movement, unless the newest says the same already.

    Args:
        db: The records.
        practice: The practice's key.
        public_id: Of a movement of this practice.
        content: What it says from now on; already checked.
        by: The practitioner's key.
        based_on: The version that the practitioner saw.
        now: The instant of the call, with a zone.

    Returns:
        The newest version.

    Raises:
        ChangedMeanwhileError: The newest version is another one and says something else.
    """
    with write(db):
        newest = find(db, practice, public_id)
        assert newest is not None, "the page has found it"
        if newest.content == content:
            return newest
        if newest.version != based_on:
            raise ChangedMeanwhileError
        _put_version(db, newest.id, newest.version + 1, content, by, now)
        changed = find(db, practice, public_id)
    assert changed is not None, "it was there a moment ago"
    return changed


def bring(db: Database, practice: int, entries: Mapping[str, Any], made_at: datetime) -> None:
    """Take a movement in that came with a file, inside a write; one that the practice has already stays as it is."""
    if find(db, practice, entries["id"]) is None:
        content = {name: value for name, value in entries.items() if name not in ("id", "version")}
        _put(db, practice, entries["id"], content, None, f"file {entries['id']}", made_at)


def set_retired(db: Database, practice: int, public_id: str, at: datetime | None) -> None:
    """Retire a movement: it is no longer offered, and stays with the routines that use it. None: offer it again. Twice changes nothing."""
    with write(db):
        db.execute(
            "UPDATE movements SET retired_at = ?1 WHERE practice = ?2 AND public_id = ?3 AND (retired_at IS NULL) <> (?1 IS NULL)",
            (instant(at) if at else None, practice, public_id),
        )


def of_practice(db: Database, practice: int) -> list[OwnMovement]:
    """List the newest version of each movement of a practice, the retired ones too, in the order in which they were made."""
    return _found(db, _FOUND + _NEWEST + " ORDER BY m.id", practice)


def find(db: Database, practice: int, public_id: str) -> OwnMovement | None:
    """Return the newest version of a practice's own movement; None for another practice's or an unknown id."""
    return next(iter(_found(db, _FOUND + _NEWEST + " AND m.public_id = ?", practice, public_id)), None)


def of_form(db: Database, practice: int, key: str) -> OwnMovement | None:
    """Return the newest version of the movement that a form has made, or None before."""
    return next(iter(_found(db, _FOUND + _NEWEST + " AND m.form_key = ?", practice, key)), None)


def versions_of(db: Database, practice: int, public_id: str) -> list[OwnMovement]:
    """List the versions of a practice's own movement, the newest first."""
    return _found(db, _FOUND + " AND m.public_id = ? ORDER BY v.version DESC", practice, public_id)


def used_by(db: Database, practitioner: int, public_id: str) -> list[User]:
    """List the practitioner's current clients whose newest routine carries a movement, by name."""
    rows = db.execute(
        "SELECT c.public_id, c.name, json_extract(o.value, '$.version') FROM clients c"
        " JOIN routine_versions v ON v.client = c.id"
        " AND v.version = (SELECT MAX(version) FROM routine_versions WHERE client = c.id)"
        " JOIN json_each(v.routine, '$.own') o ON json_extract(o.value, '$.id') = ?"
        " WHERE c.practitioner = ? AND c.ended_at IS NULL ORDER BY c.name COLLATE NOCASE, c.id",
        (public_id, practitioner),
    ).fetchall()
    return [User(*row) for row in rows]


def _found(db: Database, statement: str, *operands: object) -> list[OwnMovement]:
    return [_movement(row) for row in db.execute(statement, operands).fetchall()]


def _movement(row: tuple[Any, ...]) -> OwnMovement:
    id_, public_id, version, content, *rest = row
    return OwnMovement(id_, public_id, version, json.loads(content), *rest)
