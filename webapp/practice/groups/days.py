"""A group by day: how many trained, rested, were held and woke sore. Names nobody."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from webapp.practice.groups.standing import Member
from webapp.sync.caseload.strip import HELD, REST, SESSION, STRIP_DAYS

ONE_DAY = timedelta(days=1)


@dataclass(frozen=True)
class GroupDay:
    """One day of a group, in people.

    Attributes:
        on: The day.
        begun: Whose phone had the routine by then.
        trained: Who did a session.
        rested: Whose day was one of rest.
        held: Whose arm was held; nobody of them is asked for a session.
        sore: Who woke sore.
    """

    on: date
    begun: int
    trained: int
    rested: int
    held: int
    sore: int


def group_days(members: Sequence[Member], today: date) -> list[GroupDay]:
    """Count the last `STRIP_DAYS` days of a group, the oldest first; a person with two arms counts once."""
    days = [today - number * ONE_DAY for number in reversed(range(STRIP_DAYS))]
    kept = [_days_of(member) for member in members]
    begun = [member.begun_on for member in members if member.begun_on]
    return [_counted(on, sum(first <= on for first in begun), kept) for on in days]


def _counted(on: date, begun: int, kept: Sequence[dict[date, str]]) -> GroupDay:
    said = [marks[on] for marks in kept if on in marks]
    kinds = [next((kind for kind in (SESSION, HELD, REST) if kind in marks), "") for marks in said]
    trained, rested, held = (kinds.count(kind) for kind in (SESSION, REST, HELD))
    return GroupDay(on, max(begun, trained + rested + held), trained, rested, held, sum("y" in marks for marks in said))


def _days_of(member: Member) -> dict[date, str]:
    """Return the marks of a member's days: those of the strips of both arms, and a "y" for a sore morning."""
    found: dict[date, str] = {}
    for strip in member.strips:
        for number, (mark, sore) in enumerate(zip(strip.marks, strip.sore, strict=True)):
            on = strip.first + number * ONE_DAY
            found[on] = found.get(on, "") + mark + sore
    return found


def trained_since(members: Sequence[Member], first: date) -> int:
    """Return how many members did a session on a day or later."""
    kept = [_days_of(member) for member in members]
    return sum(any(SESSION in marks for on, marks in days.items() if on >= first) for days in kept)
