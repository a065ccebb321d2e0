"""Group invitations: one link for a class or an audience, until an instant, up to a number of people.

The link's token is stored as it is, since the practitioner shows it again and again, and a whole room sees it; what stands
against a link that leaks is the number, the instant, and that it can be closed at once. After a restore every group is closed.
"""

import hashlib
import json
import secrets
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from webapp.records import acts
from webapp.records.database import Database, instant, write

GROUPS_BEGIN = "g."
"""No link for one person begins like this."""
TOKEN_BYTES = 16
ID_BYTES = 10


@dataclass(frozen=True)
class GroupInvitation:
    """A group invitation.

    Attributes:
        id: The key.
        public_id: The id in addresses.
        practitioner: The key of the practitioner whose clients the newcomers become.
        name: What the practitioner calls the group; newcomers are named by it and a number.
        locale: The language in which the phones open.
        routine: The routine that is started, in the form of a routine file.
        token: The link's token.
        most: So many people may join.
        joined: So many have joined.
        ends_at: The instant from which nobody joins any more, UTC text.
        closed_at: The instant at which the practitioner closed it, UTC text, or None.
        confirmed: The hash of the words that the practitioner agreed to: who is started without being looked at first.
    """

    id: int
    public_id: str
    practitioner: int
    name: str
    locale: str
    routine: Mapping[str, Any]
    token: str
    most: int
    joined: int
    ends_at: str
    closed_at: str | None
    confirmed: str

    def is_open(self, now: datetime) -> bool:
        """Whether somebody may still join."""
        return self.closed_at is None and self.joined < self.most and self.ends_at > instant(now)


_COLUMNS = (
    "g.id, g.public_id, g.practitioner, g.name, g.locale, g.routine, g.token, g.most, g.joined, g.ends_at, g.closed_at,"
    " g.confirmed"
)


@dataclass(frozen=True)
class NewGroup:
    """What the practitioner chose of a new group; the fields are those of `GroupInvitation`."""

    practitioner: int
    name: str
    locale: str
    routine: Mapping[str, Any]
    most: int
    ends_at: datetime
    confirmed: str


def make(db: Database, chosen: NewGroup, key: str, now: datetime) -> str:
    """Make a group, and return its public id; the same key of a form makes one group only."""
    with write(db):
        db.execute(
            "INSERT INTO groups (public_id, practitioner, name, locale, routine, token, most, ends_at, confirmed, made_at,"
            " form_key) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT (practitioner, form_key) DO NOTHING",
            (
                *(secrets.token_hex(ID_BYTES), chosen.practitioner, chosen.name, chosen.locale),
                *(json.dumps(chosen.routine), GROUPS_BEGIN + secrets.token_urlsafe(TOKEN_BYTES), chosen.most),
                *(instant(chosen.ends_at), chosen.confirmed, instant(now), key),
            ),
        )
        found = db.execute(
            "SELECT public_id FROM groups WHERE practitioner = ? AND form_key = ?", (chosen.practitioner, key)
        ).fetchone()
    return str(found[0])


def of_practitioner(db: Database, practitioner: int) -> list[GroupInvitation]:
    """List a practitioner's groups, the newest first."""
    return _found(db, "g.practitioner = ? ORDER BY g.id DESC", practitioner)


def find(db: Database, practitioner: int, public_id: str) -> GroupInvitation | None:
    """Return one of a practitioner's own groups; None for another practitioner's group or an unknown id."""
    return next(iter(_found(db, "g.practitioner = ? AND g.public_id = ?", practitioner, public_id)), None)


def by_token(db: Database, token: str) -> GroupInvitation | None:
    """Return the group of a link, whether it is open or not."""
    return next(iter(_found(db, "g.token = ?", token)), None)


def of_client(db: Database, client: int) -> GroupInvitation | None:
    """Return the group by which a client joined and was not started yet; None also where the client is with a colleague by now."""
    where = (
        "(g.id, g.practitioner) = (SELECT m.group_id, c.practitioner FROM group_members m"
        " JOIN clients c ON c.id = m.client WHERE m.client = ? AND m.started_at IS NULL)"
    )
    return next(iter(_found(db, where, client)), None)


def close(db: Database, practitioner: int, public_id: str, now: datetime) -> None:
    """Close a group: nobody joins any more, who has joined goes on. Closing it twice changes nothing."""
    with write(db):
        row = db.execute(
            "UPDATE groups SET closed_at = ? WHERE practitioner = ? AND public_id = ? AND closed_at IS NULL RETURNING id",
            (instant(now), practitioner, public_id),
        ).fetchone()
        if row:
            acts.note(db, acts.INVITATION_ENDED)


def close_of(db: Database, practitioner: int, now: datetime) -> None:
    """Close every group of a practitioner who leaves, inside a write: nobody would look at who joins."""
    db.execute(
        "UPDATE groups SET closed_at = ? WHERE practitioner = ? AND closed_at IS NULL", (instant(now), practitioner)
    )


def close_all(db: Database, now: datetime) -> None:
    """Close every group, inside the write of a restore: one may have been closed after the copy was made."""
    db.execute("UPDATE groups SET closed_at = ? WHERE closed_at IS NULL", (instant(now),))


def take_place(db: Database, group: int, now: datetime) -> int | None:
    """Take the next place of a group, inside a write, and return its number from 1; None where nobody may join."""
    row = db.execute(
        "UPDATE groups SET joined = joined + 1 WHERE id = ? AND joined < most AND closed_at IS NULL AND ends_at > ?"
        " RETURNING joined",
        (group, instant(now)),
    ).fetchone()
    return None if row is None else int(row[0])


def add_member(db: Database, group: int, client: int, phone_key: str, now: datetime) -> None:
    """Note, inside a write, that a client joined by a group; `phone_key` is what the phone made up for this try."""
    db.execute(
        "INSERT INTO group_members (client, group_id, key_hash, joined_at) VALUES (?, ?, ?, ?)",
        (client, group, _digest(phone_key) if phone_key else None, instant(now)),
    )


def member_by_key(db: Database, group: int, phone_key: str) -> int | None:
    """Return the client who joined a group with this key of a phone, whose answer may have been lost; None for none."""
    row = db.execute(
        "SELECT client FROM group_members WHERE group_id = ? AND key_hash = ?", (group, _digest(phone_key))
    ).fetchone()
    return int(row[0]) if row and phone_key else None


def is_member(db: Database, group: int, client: int) -> bool:
    """Whether a client joined by a group."""
    return bool(db.execute("SELECT 1 FROM group_members WHERE group_id = ? AND client = ?", (group, client)).fetchone())


def members_of(db: Database, group: int) -> dict[int, str | None]:
    """Return, by client, the instant at which each member of a group was started, UTC text or None."""
    rows = db.execute("SELECT client, started_at FROM group_members WHERE group_id = ?", (group,)).fetchall()
    return dict(rows)


def note_started(db: Database, client: int, now: datetime) -> None:
    """Note, inside a write, that a member was started without the practitioner's look."""
    db.execute("UPDATE group_members SET started_at = ? WHERE client = ?", (instant(now), client))


def _found(db: Database, where: str, *values: object) -> list[GroupInvitation]:
    rows = db.execute(f"SELECT {_COLUMNS} FROM groups g WHERE {where}", values).fetchall()
    return [_group(row) for row in rows]


def _group(row: tuple[Any, ...]) -> GroupInvitation:
    id_, public_id, practitioner, name, locale, routine, token, most, joined, ends_at, closed_at, confirmed = row
    read, until = json.loads(routine), (ends_at, closed_at)
    return GroupInvitation(id_, public_id, practitioner, name, locale, read, token, most, joined, *until, confirmed)


def _digest(key: str) -> str:
    return hashlib.sha256(key.encode()).hexdigest()
