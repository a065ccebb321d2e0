"""A hold and its end: the sharp reports behind it, and the release that covers what was read of them.

A page says by `seal` what it showed; a release is refused where the log says something else by then.
"""

import hashlib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

import msgspec

from webapp.dosing.course import NOTHING, is_sharp
from webapp.dosing.dose import range_of
from webapp.dosing.release import Return, returns_after
from webapp.events.daybook import corrected_entries
from webapp.events.kinds import Event
from webapp.library.shelf import the_shelf
from webapp.records import events
from webapp.records.database import Database, write
from webapp.sync import desk
from webapp.sync.diary import entries_of, of_phones
from webapp.sync.facts import sharp_entries
from webapp.sync.fold import ONE_DAY, ArmAccount

_SEAL_LETTERS = 16
SECOND_STOP_DAYS = 28
"""A stop within so many days after another asks who has seen the arm (own choice)."""
_NEED_NOT_BE_SEEN = ("soon", "ask_first")
AFTER_A_SIGN, SECOND_STOP = "sign", "second"


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


@dataclass(frozen=True)
class Grounds:
    """Why a hold ends, in words that the client reads, and who stands for it.

    Attributes:
        reason: At most 280 letters.
        by: The practitioner's name, at most 80 letters.
        seen_by: Who has seen the arm, one of `SEEN_BY`, and on which day; None where that was not asked.
    """

    reason: str
    by: str
    seen_by: tuple[str, date] | None = None

    def to_body(self) -> dict[str, Any]:
        """Return the fields that the entry carries beside rung, range and covers."""
        told: dict[str, Any] = {"reason": self.reason, "by": self.by}
        if self.seen_by is not None:
            role, on = self.seen_by
            told["seen_by"] = {"role": role, "on": on.isoformat()}
        return told


def sharp_of(db: Database, client: int, arm: str) -> list[SharpReport]:
    """List the sharp reports of one arm that the log holds now, those of the latest day first."""
    logged = entries_of(events.of_client(db, client))
    told = of_phones(logged)
    days = sharp_entries(told).get(arm, {})
    released = {id_ for event in logged if event.kind == "hold_released" for id_ in _covered(event, arm)}
    reports = [
        SharpReport(event, days[event.id], event.id in released)
        for event in corrected_entries(told)
        if event.id in days
    ]
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


def asks_who_saw(account: ArmAccount, reports: Sequence[SharpReport], today: date) -> str:
    """Say why a release must name who has seen the arm.

    Args:
        account: Of the held arm, up to `today`.
        reports: What `sharp_of` lists of it.
        today: The client's own day.

    Returns:
        "sign" after a warning sign of the levels emergency or same day, or one that was not named; "second" at a
        second stop within 28 days; "" where it need not be named.
    """
    mild = {sign.id for sign in the_shelf().warnings if sign.level in _NEED_NOT_BE_SEEN}
    signs = [report.entry.body["sign"] for report in fresh(reports) if report.entry.kind == "warning_raised"]
    if any(sign not in mild for sign in signs):
        return AFTER_A_SIGN
    stops = _stops(account, today)
    is_second = len(stops) > 1 and (stops[-1] - stops[-2]).days <= SECOND_STOP_DAYS
    return SECOND_STOP if is_second and _is_held_since(account, stops[-1]) else ""


def fresh(reports: Sequence[SharpReport]) -> list[SharpReport]:
    """Return the reports that no earlier release names."""
    return [report for report in reports if not report.was_released]


def _stops(account: ArmAccount, today: date) -> list[date]:
    """Return the days on which an arm that was not held came to a stop, the oldest first."""
    stops = [day.on for day in account.days if day.response == "sharp" and day.state_before.mode != "held"]
    is_new = account.state.mode != "held" and is_sharp(account.facts.get(today, NOTHING))
    return [*stops, today] if is_new else stops


def _is_held_since(account: ArmAccount, stop: date) -> bool:
    """Say whether an arm that stopped on a day has not trained since."""
    return all(day.state_before.mode == "held" for day in account.days if day.on > stop)


def release(  # noqa: PLR0913 - an entry and all that it says
    db: Database, client: int, arm: str, chosen: Return, grounds: Grounds, seen: str, on: date, *, now: datetime
) -> str:
    """End the hold of one arm at the start of a day, where the practitioner chose.

    The entry names every sharp report of this moment; any other about a day before `on` keeps the hold.

    Args:
        db: The records.
        client: Whose.
        arm: "right" or "left".
        chosen: A rung and a range of `returns_of`; one that asks more than the offer counts as the offer.
        grounds: Why, by whom, and who has seen the arm.
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
        told = {"rung": chosen.rung, "range": range_of(chosen.ease), "covers": covers, **grounds.to_body()}
        return desk.put(db, client, "hold_released", on, {"arms": {arm: told}}, now)
