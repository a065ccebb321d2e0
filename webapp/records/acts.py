"""The acts that a restore must not undo, also written to a small file beside the database: `<database>.acts`.

A phone was revoked, an invitation was used, a routine was pushed, a sign-in ended, a client was removed: each act is a line in the file, and the
line is flushed before anybody gets an answer. After a restore the file shows which acts the copy lacks.
"""

import json
import os
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import pairwise
from pathlib import Path

from webapp.records.database import Database
from webapp.records.faults import RecordsError
from webapp.records.private import private_opener

PHONE_REVOKED = "phone_revoked"
INVITATION_ENDED = "invitation_ended"
ROUTINE_PUSHED = "routine_pushed"
ROUTINE_WITHDRAWN = "routine_withdrawn"
SIGN_IN_ENDED = "sign_in_ended"
CLIENT_REMOVED = "client_removed"
MEMBER_REMOVED = "member_removed"
ROLE_SET = "role_set"
BEGUN = "begun"
RESTORED = "restored"
SUFFIX = ".acts"


@dataclass(frozen=True)
class Act:
    """One act: one line of the file, a JSON object with life, number, what (the kind) and which.

    Attributes:
        life: The life of the database at the time of the act; each restore begins a new life.
        number: A count from 1. After a restore the count goes on from the copy's count. 0 for BEGUN.
        kind: One of the constants above.
        which: For PHONE_REVOKED the phone's id, for ROUTINE_PUSHED the version, for ROUTINE_WITHDRAWN the client's key and the version, for CLIENT_REMOVED a hash of the client's
            id, for MEMBER_REMOVED the practitioner's key, for ROLE_SET that key and the role, for RESTORED the highest version number that is skipped; else "".
    """

    life: str
    number: int
    kind: str
    which: str = ""


def beside(path: Path) -> Path:
    """Return the path of the acts file of a database."""
    return path.with_name(path.name + SUFFIX)


def note(db: Database, kind: str, which: str = "") -> None:
    """Count an act, inside the write that does it. The line is written once the transaction is committed."""
    number = db.execute(
        "UPDATE settings SET value = CAST(value AS INTEGER) + 1 WHERE key = 'acts' RETURNING value"
    ).fetchone()[0]
    db.after_commit.append(partial(_append, beside(db.path), Act(life_of(db), int(number), kind, which)))


def life_of(db: Database) -> str:
    """Return the life of a database: 16 hexadecimal digits."""
    return str(db.execute("SELECT value FROM settings WHERE key = 'life'").fetchone()[0])


def count_of(db: Database) -> int:
    """Return the number of acts that are counted in a database."""
    return int(db.execute("SELECT value FROM settings WHERE key = 'acts'").fetchone()[0])


def read(path: Path) -> list[Act]:
    """List the acts in the file beside a database, life by life, in the order of their numbers; empty without a file.

    A line that cannot be read is left out. The order of the lines may be wrong, if two processes wrote at the same time.
    """
    try:
        lines = beside(path).read_text(encoding="utf-8", errors="replace").splitlines()
    except FileNotFoundError:
        return []
    acts = [act for act in map(_act, lines) if act]
    lives = list(dict.fromkeys(act.life for act in acts))
    return sorted(acts, key=lambda act: (lives.index(act.life), act.number))


def check(db: Database) -> None:
    """Compare a database with the acts file beside it, before it is served.

    Raises:
        RecordsError: `acts_missing`, `acts_of_another` or `went_back`: this is not the database that was last served.
    """
    acts, count, life = read(db.path), count_of(db), life_of(db)
    if not acts and count:
        raise RecordsError("acts_missing", path=db.path, acts=beside(db.path))
    if acts and acts[-1].life != life:
        raise RecordsError("acts_of_another", path=db.path, acts=beside(db.path))
    last = max((act.number for act in acts if act.life == life), default=0)
    if last > count:
        raise RecordsError("went_back", path=db.path, acts=last - count)


def since(acts: Sequence[Act], life: str, count: int) -> list[Act] | None:
    """List the acts after a copy was made, in the copy's life and in later lives, or None if they cannot be known.

    Args:
        acts: All acts from the file beside the database that the copy replaces.
        life: The life of the copy.
        count: The number of acts that are counted in the copy.
    """
    starts = [index for index, act in enumerate(acts) if act.life == life and act.number in (count, count + 1)]
    if not starts:
        return None
    known = acts[starts[0] :]
    if any(here.number != before.number + 1 and here.kind != RESTORED for before, here in pairwise(known)):
        return None
    return [act for act in known if (act.life, act.number) != (life, count)]


def highest_version(acts: Iterable[Act]) -> int:
    """Return the highest routine version in these acts, of all clients together; 0 if there is none."""
    return max((int(act.which) for act in acts if act.kind in (ROUTINE_PUSHED, RESTORED) and act.which), default=0)


def begin(path: Path, first: Act) -> None:
    """Write the first act of a new life to the file, after the acts of earlier lives."""
    _append(beside(path), first)


def _append(path: Path, act: Act) -> None:
    try:
        _write(path, act)
    except OSError as error:
        raise RecordsError("acts_unwritten", path=path, why=error) from error


def _write(path: Path, act: Act) -> None:
    with open(path, "a+b", opener=private_opener) as file:
        file.seek(0, os.SEEK_END)
        if file.tell():
            file.seek(-1, os.SEEK_END)
            # If a power cut left half a line, this line must not be joined to it.
            if file.read(1) != b"\n":
                file.write(b"\n")
        line = {"life": act.life, "number": act.number, "what": act.kind, "which": act.which}
        file.write(json.dumps(line).encode() + b"\n")
        file.flush()
        os.fsync(file.fileno())


def _act(line: str) -> Act | None:
    try:
        values = json.loads(line)
        return Act(values["life"], values["number"], values["what"], values["which"])
    except (ValueError, TypeError, KeyError):
        return None
