"""A hold and its end: the sharp reports behind it, and the release that covers what was read of them.

A page says by `seal` what it showed; a release is refused where the log says something else by then.
"""

import hashlib
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime

import msgspec

from webapp.dosing.course import is_sharp
from webapp.dosing.dose import range_of
from webapp.dosing.release import Return, returns_after
from webapp.events.daybook import standing
from webapp.events.kinds import Event
from webapp.records import events
from webapp.records.database import Database, write
from webapp.sync import desk
from webapp.sync.diary import entries_of, of_phones
from webapp.sync.facts import sharp_entries
from webapp.sync.fold import ONE_DAY, ArmAccount

_SEAL_LETTERS = 16


class UnreadError(Exception):
    """The sharp reports of an arm are not those that the practitioner was shown: read them, then release."""


@dataclass(frozen=True)
class SharpReport:
    """One entry that is enough to hold an arm.

    Attributes:
        entry: As it counts now, with what was corrected or answered since.
        on: The day it speaks of.
        was_released: Whether an earlier release of this arm names it.
    """

    entry: Event
    on: date
    was_released: bool

    @property
    def seal(self) -> str:
        """Give a short word for all that it tells, which another answer makes another word."""
        told = msgspec.json.encode([self.entry.id, self.entry.on, self.entry.body], order="deterministic")
        return hashlib.sha256(told).hexdigest()[:_SEAL_LETTERS]


def sharp_of(db: Database, client: int, arm: str) -> list[SharpReport]:
    """List the sharp reports of one arm that the log holds now, those of the latest day first."""
    logged = entries_of(events.of_client(db, client))
    told = of_phones(logged)
    days = sharp_entries(told).get(arm, {})
    released = {id_ for event in logged if event.kind == "hold_released" for id_ in _covered(event, arm)}
    reports = [SharpReport(event, days[event.id], event.id in released) for event in standing(told) if event.id in days]
    return sorted(reports, key=lambda report: (report.on, report.entry.id), reverse=True)


def _covered(release: Event, arm: str) -> list[str]:
    return list(release.body["arms"].get(arm, {}).get("covers", ()))


def seal(reports: Iterable[SharpReport]) -> str:
    """Give a line that tells these reports, and what each says, from any others."""
    return " ".join(sorted(report.seal for report in reports))


def days_held(account: ArmAccount) -> int:
    """Count the closed days for which an arm has been held."""
    count = 0
    for day in reversed(account.days):
        if day.state_before.mode != "held":
            break
        count += 1
    return count


def returns_of(account: ArmAccount) -> list[Return]:
    """List where a held arm may come back, given the days that it was held; the one that asks most first."""
    return returns_after(account.plan, account.state, days_held(account))


def release_on(account: ArmAccount, today: date) -> date:
    """Give the first day on which a release counts: after the last sharp day, and not before today.

    A sharp day further off than tomorrow is of a clock that stood ahead, and is not waited for.
    """
    sharp = [on for on, facts in account.facts.items() if on <= today + ONE_DAY and is_sharp(facts)]
    return max([today, *(on + ONE_DAY for on in sharp)])


def release(db: Database, client: int, arm: str, chosen: Return, seen: str, on: date, now: datetime) -> str:
    """End the hold of one arm at the start of a day, where the practitioner chose.

    The entry names every sharp report of this moment; any other about a day before `on` keeps the hold.

    Args:
        db: The records.
        client: Whose.
        arm: "right" or "left".
        chosen: A rung and a range of `returns_of`; one that asks more than the offer counts as the offer.
        seen: The `seal` of the reports that the practitioner has read.
        on: See `release_on`.
        now: The instant of the call, in UTC.

    Returns:
        The event's id.

    Raises:
        UnreadError: The log holds another report by now, or other answers; nothing was written.
    """
    with write(db):
        reports = sharp_of(db, client, arm)
        if seal(reports) != seen:
            raise UnreadError
        covers = sorted(report.entry.id for report in reports)
        body = {"arms": {arm: {"rung": chosen.rung, "range": range_of(chosen.ease), "covers": covers}}}
        return desk.put(db, client, "hold_released", on, body, now)
