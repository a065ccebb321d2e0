"""The practice's acts on a way back to sport or work: the gate looked at, opening, ending."""

import hashlib
from collections.abc import Mapping, Sequence
from datetime import date, datetime
from typing import Any

from webapp.dosing.dose import dose
from webapp.dosing.returning.gate import GateArm, GatePoint, gate_points
from webapp.dosing.returning.own_activity import own_activity_point
from webapp.events.activities import ratings_in
from webapp.events.daybook import corrected_entries
from webapp.events.returning import ENDED, WayOpened
from webapp.records import events
from webapp.records.database import Database, write
from webapp.sync.folding.arm_account import ArmAccount
from webapp.sync.folding.fold import read_course
from webapp.sync.folding.returning import FollowedArms, told_ways
from webapp.sync.log import practice_events
from webapp.sync.log.diary import entries_of, of_phones

_SEAL_LETTERS = 16


class WayChangedError(Exception):
    """The way back was opened or ended after the page was shown: the practitioner must read it before doing it again."""


def seal(ways: Sequence[tuple[date, WayOpened | None]]) -> str:
    """Return a short hash of what was opened and ended; it changes with each further act."""
    return hashlib.sha256(repr(ways).encode()).hexdigest()[:_SEAL_LETTERS]


def put_way(db: Database, client: int, kind: str, on: date, body: dict[str, Any], seen: str, *, now: datetime) -> None:
    """Put the opening or the end of a way back on record; the same form sent twice writes once.

    Args:
        db: The records.
        client: The client's key.
        kind: return_opened or return_ended.
        on: Its first day.
        body: The body of the kind.
        seen: The seal of what the practitioner has read.
        now: The instant of the call, in UTC.

    Raises:
        WayChangedError: Something else was opened or ended meanwhile; nothing was stored.
        EventError: The body does not fit.
    """
    with write(db):
        ways = told_ways(db, client)
        if seen != seal(ways):
            last = ways[-1] if ways else None
            if last and last[0] == on and _is_same(last[1], kind, body):
                return
            raise WayChangedError
        practice_events.put(db, client, kind, on, body, now)


def _is_same(way: WayOpened | None, kind: str, body: dict[str, Any]) -> bool:
    if kind == ENDED or way is None:
        return way is None and kind == ENDED
    return (way.ladder, way.step, way.reason) == (body["ladder"], body["step"], body["reason"])


def gate_of(db: Database, client: int, accounts: Mapping[str, ArmAccount], today: date) -> tuple[GatePoint, ...]:
    """Work out the points of the gate that the log decides, and that of the client's own activity as far as the log knows it."""
    logged = events.of_client(db, client)
    course = read_course(db, client, logged)
    raised = FollowedArms(course, today).raised_on(today)
    points = gate_points(
        (
            GateArm(each.plan, each.days, each.facts, each.state, dose(each.plan, each.state), raised.get(arm))
            for arm, each in accounts.items()
        ),
        today,
    )
    return *points, own_activity_point((each.facts for each in accounts.values()), _lowest_ratings(logged), today)


def _lowest_ratings(logged: Sequence[events.LoggedEvent]) -> dict[date, int]:
    """Return by day the lowest rating of an activity that the client named."""
    ratings = ratings_in(corrected_entries(of_phones(entries_of(logged))))
    return {each.on: each.rating for each in sorted(ratings, key=lambda rating: -rating.rating)}
