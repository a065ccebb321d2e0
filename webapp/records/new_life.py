"""Making a restored copy safe to serve: what was ended after the copy stays ended, and no version number is used twice."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from secrets import token_hex

from webapp.records import acts, derived, epoch, groups, members, owners, removal, routines
from webapp.records import withdrawn as withdrawn_versions
from webapp.records.acts import Act
from webapp.records.database import Database, instant, write
from webapp.records.soundness import COPY_OF

CLOCK_STARTS = datetime(2026, 1, 1, tzinfo=UTC)


@dataclass(frozen=True)
class NewLife:
    """The result of a restore.

    Attributes:
        act: The first act of the new life.
        revoked: The number of phones that are revoked again, since they were revoked after the copy was made.
        to_confirm: The number of phones that the practitioner must confirm.
        withdrawn: The number of invitations that may not be used any more.
        removed: The number of clients that are removed again, since they were removed after the copy was made.
    """

    act: Act
    revoked: int
    to_confirm: int
    withdrawn: int
    removed: int


def begin(db: Database, beside: Sequence[Act], now: datetime, *, confirm_all: bool = False) -> NewLife:
    """Begin a new life in a copy.

    Args:
        db: The copy.
        beside: The acts from the file beside the replaced database; empty if the file is lost.
        now: The instant of the call, with a zone.
        confirm_all: Whether the practitioner must confirm every phone, whatever the acts say.
    """
    life, number = token_hex(8), acts.count_of(db) + 1
    since = None if confirm_all else acts.since(beside, acts.life_of(db), number - 1)
    with write(db):
        left_out = routines.skip_numbers(db, max(acts.highest_version(beside), _by_clock(now) if since is None else 0))
        revoked = sum(_revoke(db, act.which, now) for act in since or () if act.kind == acts.PHONE_REVOKED)
        # A removal is done again even where the other acts are not known: every line of the file names its client.
        removed = sum(removal.remove_again(db, act.which) for act in beside if act.kind == acts.CLIENT_REMOVED)
        to_confirm = _have_confirmed(db) if since is None else 0
        withdrawn = _count(db, "DELETE FROM invitations WHERE used_at IS NULL RETURNING id")
        db.execute("DELETE FROM practitioner_sessions")
        db.execute("DELETE FROM password_links")
        groups.close_all(db, now)
        if since is None:
            # Nobody knows who has left since, so each member needs a new link from an owner.
            members.forget_passwords(db)
        for act in since or ():
            if act.kind == acts.MEMBER_REMOVED:
                members.shut_out(db, int(act.which), now)
            if act.kind == acts.ROLE_SET:
                owners.set_role_again(db, act.which)
            if act.kind == acts.ROUTINE_WITHDRAWN:
                withdrawn_versions.withdraw_again(db, *map(int, act.which.split()))
        # An address that was ended after the copy must not live again; a phone asks for a new one.
        db.execute("DELETE FROM feeds")
        for table in derived.TABLES:
            db.execute(f"DELETE FROM {table}")
        epoch.renew(db)
        db.execute("DELETE FROM settings WHERE key = ?", (COPY_OF,))
        db.execute("UPDATE settings SET value = ? WHERE key = 'life'", (life,))
        db.execute("UPDATE settings SET value = ? WHERE key = 'acts'", (str(number),))
    removal.tidy_up(db)
    return NewLife(Act(life, number, acts.RESTORED, str(left_out)), revoked, to_confirm, withdrawn, removed)


def _by_clock(now: datetime) -> int:
    """Return a number above all earlier versions, computed from the clock: it grows by a hundred each hour."""
    return int((now - CLOCK_STARTS) / timedelta(hours=1)) * routines.LEFT_OUT


def _revoke(db: Database, device: str, now: datetime) -> int:
    return _count(
        db, "UPDATE devices SET revoked_at = ? WHERE id = ? AND revoked_at IS NULL RETURNING id", instant(now), device
    )


def _have_confirmed(db: Database) -> int:
    return _count(db, "UPDATE devices SET to_confirm = 1 WHERE revoked_at IS NULL RETURNING id")


def _count(db: Database, statement: str, *values: object) -> int:
    return len(db.execute(statement, values).fetchall())
