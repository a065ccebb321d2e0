"""A hold and its end: the sharp reports behind it, and the release that covers the reports that the practitioner has read.

A page carries a hash (`seal`) of the reports that it showed. If the log has other reports by then, the release is refused.
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
from webapp.sync.folding.arm_account import ArmAccount
from webapp.sync.folding.fold import ONE_DAY
from webapp.sync.log import practice_events
from webapp.sync.log.diary import entries_of, of_phones
from webapp.sync.log.facts import sharp_entries

_SEAL_LETTERS = 16
SECOND_STOP_DAYS = 28
"""A stop within so many days after another asks who has seen the arm (own choice)."""
_NEED_NOT_BE_SEEN = ("soon", "ask_first")
AFTER_A_SIGN, SECOND_STOP = "sign", "second"


class UnreadError(Exception):
    """The sharp reports of an arm differ from those on the page: the practitioner must read them before the release."""


@dataclass(frozen=True)
class SharpReport:
    """An entry that alone holds an arm.

    Attributes:
        entry: The entry as it counts now, with later corrections and answers.
        on: The day that the entry is about.
        was_released: Whether an earlier release of this arm names the entry.
    """

    entry: Event
    on: date
    was_released: bool

    @property
    def seal(self) -> str:
        """Return a short hash of the entry's id, day and body; it changes when the client corrects or answers."""
        content = msgspec.json.encode([self.entry.id, self.entry.on, self.entry.body], order="deterministic")
        return hashlib.sha256(content).hexdigest()[:_SEAL_LETTERS]


@dataclass(frozen=True)
class Grounds:
    """The reason for a release, which the client reads, and the people behind it.

    Attributes:
        reason: At most 280 letters.
        by: The practitioner's name, at most 80 letters.
        seen_by: Who has seen the arm (one of `SEEN_BY`), and the day; None if the release does not need this.
    """

    reason: str
    by: str
    seen_by: tuple[str, date] | None = None

    def to_body(self) -> dict[str, Any]:
        """Return these fields of the event's body; the others are rung, range and covers."""
        body: dict[str, Any] = {"reason": self.reason, "by": self.by}
        if self.seen_by is not None:
            role, on = self.seen_by
            body["seen_by"] = {"role": role, "on": on.isoformat()}
        return body


def sharp_of(db: Database, client: int, arm: str) -> list[SharpReport]:
    """List the sharp reports of one arm that are in the log now, the latest day first."""
    logged = entries_of(events.of_client(db, client))
    phone_events = of_phones(logged)
    days = sharp_entries(phone_events).get(arm, {})
    released = {id_ for event in logged if event.kind == "hold_released" for id_ in _covered(event, arm)}
    reports = [
        SharpReport(event, days[event.id], event.id in released)
        for event in corrected_entries(phone_events)
        if event.id in days
    ]
    return sorted(reports, key=lambda report: (report.on, report.entry.id), reverse=True)


def _covered(release: Event, arm: str) -> list[str]:
    return list(release.body["arms"].get(arm, {}).get("covers", ()))


def seal(reports: Iterable[SharpReport]) -> str:
    """Return a text that identifies these reports and their contents: their hashes, joined."""
    return " ".join(sorted(report.seal for report in reports))


def days_held(account: ArmAccount) -> int:
    """Return the number of closed days since an arm was held."""
    count = 0
    for day in reversed(account.days):
        if day.state_before.mode != "held":
            break
        count += 1
    return count


def returns_of(account: ArmAccount) -> list[Return]:
    """List the rungs and ranges at which a held arm may start again, by the days of the hold; the hardest first."""
    return returns_after(account.plan, account.state, days_held(account))


def release_on(account: ArmAccount, today: date) -> date:
    """Return the first day on which a release counts: after the last sharp day, and not before today.

    A sharp day later than tomorrow comes from a clock that was ahead, and does not count.
    """
    sharp = [on for on, facts in account.facts.items() if on <= today + ONE_DAY and is_sharp(facts)]
    return max([today, *(on + ONE_DAY for on in sharp)])


def asks_who_saw(account: ArmAccount, reports: Sequence[SharpReport], today: date) -> str:
    """Return the reason why a release must name who has seen the arm.

    Args:
        account: The account of the held arm, up to `today`.
        reports: The sharp reports of the arm, from `sharp_of`.
        today: The client's own day.

    Returns:
        "sign" after a warning sign that is not named or is of the levels emergency or same day; "second" after a second
        stop within 28 days; "" if nobody need be named.
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
    """Return the days on which an arm was stopped that was not held before, the oldest first."""
    stops = [day.on for day in account.days if day.response == "sharp" and day.state_before.mode != "held"]
    is_new = account.state.mode != "held" and is_sharp(account.facts.get(today, NOTHING))
    return [*stops, today] if is_new else stops


def _is_held_since(account: ArmAccount, stop: date) -> bool:
    """Whether an arm that was stopped on a day has not trained since."""
    return all(day.state_before.mode == "held" for day in account.days if day.on > stop)


def release(  # noqa: PLR0913 - an entry and all that it says
    db: Database, client: int, arm: str, chosen: Return, grounds: Grounds, seen: str, on: date, *, now: datetime
) -> str:
    """End the hold of one arm at the start of a day; the arm starts again on the rung that the practitioner chose.

    The event names all present sharp reports. Any other sharp report about a day before `on` keeps the hold.

    Args:
        db: The records.
        client: The client's key.
        arm: "right" or "left".
        chosen: A rung and a range from `returns_of`; a harder choice counts as the hardest that is allowed.
        grounds: The reason, the practitioner, and who has seen the arm.
        seen: The `seal` of the reports that the practitioner has read.
        on: The first day on which the release counts, from `release_on`.
        now: The instant of the call, in UTC.

    Returns:
        The event's id.

    Raises:
        UnreadError: The log has other reports or other answers by now; nothing was written.
    """
    with write(db):
        reports = sharp_of(db, client, arm)
        if seal(reports) != seen:
            raise UnreadError
        covers = sorted(report.entry.id for report in reports)
        body = {"rung": chosen.rung, "range": range_of(chosen.ease), "covers": covers, **grounds.to_body()}
        return practice_events.put(db, client, "hold_released", on, {"arms": {arm: body}}, now)
