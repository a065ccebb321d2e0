"""Who owns a practice: a member becomes an owner and the other way round; one owner who can sign in always stays."""

from webapp.records import acts
from webapp.records.database import Database, write
from webapp.records.practices import MEMBER, OWNER


class LastOwnerError(ValueError):
    """The practice would have no owner who can sign in."""


def set_role(db: Database, practice: int, practitioner: int, role: str) -> bool:
    """Make a colleague an owner or a member.

    Args:
        db: The records.
        practice: The practice's key.
        practitioner: The colleague's key; who has left, or has set no password yet, stays what they are.
        role: One of `practices.ROLES`.

    Returns:
        Whether something was changed.

    Raises:
        LastOwnerError: Nobody else owns the practice; nothing was changed.
    """
    with write(db):
        changed = db.execute(
            "UPDATE practitioners SET role = ? WHERE id = ? AND practice = ? AND role <> ? AND removed_at IS NULL"
            " AND password_hash <> '' RETURNING id",
            (role, practitioner, practice, role),
        ).fetchone()
        if changed and not is_owned(db, practice):
            raise LastOwnerError
        if changed:
            acts.note(db, acts.ROLE_SET, f"{practitioner} {role}")
    return bool(changed)


def is_owned(db: Database, practice: int) -> bool:
    """Whether an owner of the practice can sign in."""
    return bool(
        db.execute(
            "SELECT 1 FROM practitioners WHERE practice = ? AND role = ? AND removed_at IS NULL AND password_hash <> ''",
            (practice, OWNER),
        ).fetchone()
    )


def set_role_again(db: Database, which: str) -> None:
    """Do in a restored copy what `set_role` did after the copy was made, inside a write; the last owner stays one.

    Whom the copy does not know is passed over.
    """
    practitioner, role = which.split()
    db.execute(
        "UPDATE practitioners SET role = ?1 WHERE id = ?2 AND (?1 <> ?3 OR EXISTS (SELECT 1 FROM practitioners o"
        " WHERE o.practice = practitioners.practice AND o.id <> ?2 AND o.role = ?4 AND o.removed_at IS NULL))",
        (role, int(practitioner), MEMBER, OWNER),
    )
