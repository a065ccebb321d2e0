"""The acts that must never be undone, also in a small file beside the database: `<database>.acts`.

A phone revoked, an invitation used, a routine pushed, a sign-in ended: each is one line there, flushed before
anybody is told that it was done. So a copy put back in place of the database is known by what it lacks,
and what the copy does not know of is not lost with it.
"""

import json
import os
from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass
from functools import partial
from itertools import pairwise
from pathlib import Path

from webapp.records.database import Database
from webapp.records.faults import RecordsError
from webapp.records.private import private_opener

PHONE_REVOKED = "phone_revoked"
INVITATION_ENDED = "invitation_ended"
ROUTINE_PUSHED = "routine_pushed"
SIGN_IN_ENDED = "sign_in_ended"
BEGUN = "begun"
RESTORED = "restored"
SUFFIX = ".acts"


@dataclass(frozen=True)
class Act:
    """One line.

    Attributes:
        life: The life of the database in which it was done; each restore begins another.
        number: Counts from 1; a life that a restore begins goes on after the copy's. 0 with BEGUN.
        what: One of the words above.
        which: The phone's id with PHONE_REVOKED; the version with ROUTINE_PUSHED; the highest number left out for
            versions with RESTORED; else "".
    """

    life: str
    number: int
    what: str
    which: str = ""


def beside(path: Path) -> Path:
    """Return where the acts of a database lie."""
    return path.with_name(path.name + SUFFIX)


def note(db: Database, what: str, which: str = "") -> None:
    """Count an act, inside the write that does it; the line follows when the write is safe."""
    number = db.execute(
        "UPDATE settings SET value = CAST(value AS INTEGER) + 1 WHERE key = 'acts' RETURNING value"
    ).fetchone()[0]
    db.after_commit.append(partial(_append, beside(db.path), Act(life_of(db), int(number), what, which)))


def life_of(db: Database) -> str:
    """Return the life of a database: 16 hexadecimal digits."""
    return str(db.execute("SELECT value FROM settings WHERE key = 'life'").fetchone()[0])


def count_of(db: Database) -> int:
    """Return how many acts a database knows of."""
    return int(db.execute("SELECT value FROM settings WHERE key = 'acts'").fetchone()[0])


def read(path: Path) -> list[Act]:
    """List the acts beside a database, life after life, each by number; empty where there is no such file.

    A line that cannot be read is left out. Two processes may have written two lines the other way round.
    """
    try:
        lines = beside(path).read_text(encoding="utf-8", errors="replace").splitlines()
    except FileNotFoundError:
        return []
    told = [act for act in map(_act, lines) if act]
    lives = list(dict.fromkeys(act.life for act in told))
    return sorted(told, key=lambda act: (lives.index(act.life), act.number))


def check(db: Database) -> None:
    """Compare a database with the acts beside it, before it is served.

    Raises:
        RecordsError: `acts_missing`, `acts_of_another`, or `went_back`: this is not the file that was last served.
    """
    told, count, life = read(db.path), count_of(db), life_of(db)
    if not told and count:
        raise RecordsError("acts_missing", path=db.path, acts=beside(db.path))
    if told and told[-1].life != life:
        raise RecordsError("acts_of_another", path=db.path, acts=beside(db.path))
    last = max((act.number for act in told if act.life == life), default=0)
    if last > count:
        raise RecordsError("went_back", path=db.path, acts=last - count)


def since(told: Sequence[Act], life: str, count: int) -> list[Act] | None:
    """List what was done after a copy was made, in this life and in later ones, or None where that cannot be known.

    Args:
        told: As read beside the database that the copy replaces.
        life: The copy's.
        count: How many acts the copy knows of.
    """
    places = [place for place, act in enumerate(told) if act.life == life and act.number in (count, count + 1)]
    if not places:
        return None
    known = told[places[0] :]
    if any(here.number != before.number + 1 and here.what != RESTORED for before, here in pairwise(known)):
        return None
    return [act for act in known if (act.life, act.number) != (life, count)]


def highest_version(told: Iterable[Act]) -> int:
    """Return the highest version that any of these acts names, of whatever client; 0 for none."""
    return max((int(act.which) for act in told if act.what in (ROUTINE_PUSHED, RESTORED) and act.which), default=0)


def begin(path: Path, first: Act) -> None:
    """Write down that a new life begins, after the acts of those before."""
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
            # A line that the power cut short must not spoil this one.
            if file.read(1) != b"\n":
                file.write(b"\n")
        file.write(json.dumps(asdict(act)).encode() + b"\n")
        file.flush()
        os.fsync(file.fileno())


def _act(line: str) -> Act | None:
    try:
        return Act(**json.loads(line))
    except (ValueError, TypeError):
        return None
