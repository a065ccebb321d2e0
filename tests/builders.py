"""Builds what tests start from: events as a phone would write them, and people in a database.

Every builder gives something valid; a test names only what its story needs otherwise.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from tests.cast import HEDDA, NOW, ZONE, Person, Sufferer
from webapp.dosing.release import Return
from webapp.library.routine import starter
from webapp.library.shelf import the_shelf
from webapp.practice.door.passwords import hash_password
from webapp.records import acts, cases, invitations, members, practitioners, routines
from webapp.records.database import Database, open_records
from webapp.records.making import make_records
from webapp.records.members import NewSecrets
from webapp.records.practitioners import Practitioner
from webapp.records.private import keep_private
from webapp.sync.case import hold

MORNING_HOUR = 7
EVENING_HOUR = 18
MOVEMENTS = ("palm_down", "palm_up", "thumb_up", "little_finger_up")
SET_REPS = 12
WHOLE = 1000


@dataclass(frozen=True)
class Enrolled:
    """A client in the records, with the token of an unused invitation link."""

    id: int
    public_id: str
    token: str


def uuid7(number: int) -> str:
    """The number-th identifier: shaped as version 7 asks, and the same in every run."""
    return f"01920000-0000-7000-8000-{number:012x}"


def event(kind: str, on: date, body: dict[str, Any], *, seq: int = 1, hour: int = EVENING_HOUR, **other: Any) -> dict:
    """An event as it travels; `seq` also makes its id, unless one is given."""
    at = f"{on.isoformat()}T{hour:02d}:00:00.000Z"
    plain = {"id": uuid7(seq), "kind": kind, "v": 1, "on": on.isoformat(), "at": at, "zone": ZONE, "seq": seq}
    return {**plain, "body": body, **other}


def played(share: int = WHOLE) -> list[dict[str, Any]]:
    """The sets of one arm: the same share of the day's asked work, per mille, in every direction; no rep for none."""
    reps = SET_REPS if share else 0
    return [{"movement": name, "reps": reps, "load_kg": 0, "range": 1, "share": share} for name in MOVEMENTS]


def session(
    on: date,
    worst: int | None = 1,
    *,
    arms: Sequence[str] = ("right",),
    sharp: bool = False,
    routine: int = 1,
    share: int = WHOLE,
    **other: Any,
) -> dict[str, Any]:
    """A session done to its end, rated `worst` (0-10) on every arm, with this share of the day's asked work, per mille."""
    body = {
        "routine": routine,
        "arms": {arm: {"worst": worst, "sharp": sharp, "sets": played(share)} for arm in arms},
        "asked_steps": 20,
        "done_steps": 20,
        "active_seconds": 600,
        "ended": "sharp" if sharp else "completed",
        "why": "",
        "note": "",
        "gaps": [],
    }
    return event("session_finished", on, body, **other)


def morning(on: date, pain: int = 1, *, arms: Sequence[str] = ("right",), sharp: bool = False, **other: Any) -> dict:
    """The report of the morning of `on`, which classes the day before."""
    body = {"arms": {arm: {"pain": pain, "sharp": sharp} for arm in arms}}
    return event("morning_reported", on, body, **{"hour": MORNING_HOUR, **other})


def screened(on: date, *signs: str, reached: str = "ask_first", **other: Any) -> dict[str, Any]:
    """The screening before the first session, gone through as far as a level; without signs none of them is true."""
    body = {"asked_list": the_shelf().signs_mark, "reached": reached, "signs": list(signs)}
    return event("screening_answered", on, body, **other)


def days_of(first: date, reports: Sequence[tuple[int | None, int | None]], *, arms: Sequence[str] = ("right",)) -> list:
    """A run of days in order: for each, the worst of its session (None: no session) and the next morning's pain."""
    events: list[dict[str, Any]] = []
    for count, (worst, pain) in enumerate(reports):
        on = first + timedelta(days=count)
        if worst is not None:
            events.append(session(on, worst, arms=arms, seq=len(events) + 1))
        if pain is not None:
            events.append(morning(on + timedelta(days=1), pain, arms=arms, seq=len(events) + 1))
    return events


@cache
def hash_of(password: str) -> str:
    """The hash of a password of the cast, made once: it is slow on purpose."""
    return hash_password(password)


@cache
def _empty() -> tuple[bytes, bytes]:
    """What an empty database and its acts file hold, made once in a process."""
    with TemporaryDirectory() as folder:
        path = Path(folder) / "empty.db"
        make_records(path)
        return path.read_bytes(), acts.beside(path).read_bytes()


def empty_records(path: Path) -> Database:
    """A database with every table and nobody in it: a copy of one that was made."""
    for copy, content in zip((path, acts.beside(path)), _empty(), strict=True):
        copy.write_bytes(content)
        keep_private(copy)
    return open_records(path)


def hire(db: Database, person: Person, now: datetime = NOW) -> Practitioner:
    """Put a practitioner into the records, with a password that signs in."""
    return practitioners.add(db, person.name, person.email, hash_of(person.password), now)


def let_in(db: Database, member: int, now: datetime = NOW, code_hash: str = "") -> None:
    """Let a member set a password by a link, which no word fits; with a recovery code where a hash of one is given."""
    token = members.make_link(db, member, now).token
    invited = members.invited_by(db, token, now)
    assert invited is not None
    assert members.set_password(db, token, invited, NewSecrets("no real hash", code_hash), now)


def enrol(db: Database, practitioner: int, client: Sufferer, now: datetime = NOW) -> Enrolled:
    """Put a client into the records: intake, first routine pushed, an invitation link made."""
    case = cases.add(db, practitioner, client.public_id, client.name, "en", client.intake, now)
    routine = starter(client.area)
    routine = {**routine, "tuning": {**routine.get("tuning", {}), **client.tuning}}
    routines.push(db, case.id, routine, client.settings, client.note, practitioner, now)
    return Enrolled(case.id, case.public_id, invitations.make_link(db, case.id, now).token)


def release(db: Database, client: int, arm: str, chosen: Return, on: date, now: datetime = NOW) -> str:
    """A hold released by a practitioner who has read every sharp report on record; gives the entry's id."""
    grounds = hold.Grounds("Looked at, and calm again.", HEDDA.name)
    return hold.release(db, client, arm, chosen, grounds, hold.seal(hold.sharp_of(db, client, arm)), on, now=now)
