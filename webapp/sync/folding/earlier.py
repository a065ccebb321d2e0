"""When a finding was there before: the review asked again for each earlier morning. Pure."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from webapp.dosing.course import ONE_DAY, ClosedDay
from webapp.dosing.findings.arm_course import ArmCourse, has_climbed
from webapp.dosing.review import FINDINGS, SAYS_IT_ALREADY, review
from webapp.events.course_set import SetCourse, course_on
from webapp.sync.folding.arm_account import ArmAccount
from webapp.sync.folding.review import Noticed, is_asked

LOOKED_BACK = timedelta(days=182)
"""So far back a finding is looked for. Own choice: half a year; so the page does not grow slower with the log."""


@dataclass(frozen=True)
class Time:
    """The first and the last morning, without a gap, on which a finding was there."""

    first: date
    last: date

    @property
    def days(self) -> int:
        """The number of mornings."""
        return (self.last - self.first).days + 1


Times = Mapping[tuple[str, str], Sequence[Time]]


def times_before(
    accounts: Mapping[str, ArmAccount], found: Collection[Noticed], courses: Sequence[SetCourse], today: date
) -> Times:
    """Return when the findings of today were there before.

    Args:
        accounts: The folded log, by arm.
        found: The findings of today.
        courses: Every course that was set, by its first day.
        today: The first open day.

    Returns:
        By arm and id of a finding, each earlier time, the oldest first; the one that goes on today is left out.
    """
    times: dict[tuple[str, str], list[Time]] = {}
    for arm, account in accounts.items():
        ids = {each.finding.id for each in found if each.arm == arm}
        mornings: dict[str, list[date]] = {}
        for id_, on in _found_on(account, ids, courses, today - LOOKED_BACK):
            mornings.setdefault(id_, []).append(on)
        times |= {(arm, id_): _before(_joined(on), today) for id_, on in mornings.items()}
    return times


def _found_on(
    account: ArmAccount, ids: Collection[str], courses: Sequence[SetCourse], since: date
) -> Iterator[tuple[str, date]]:
    watches = [watch for watch in FINDINGS if watch.id in ids or SAYS_IT_ALREADY.get(watch.id) in ids]
    stood_from = 0
    for number, day in enumerate(account.days if watches else ()):
        if number and _has_climbed(account.days[number - 1], day):
            stood_from = number
        if day.on < since:
            continue
        course = ArmCourse(
            account.plan_on(day.on),
            account.days[:number],
            day.state_before,
            day.on,
            agreed_since=account.agreed_on(day.on),
            stood_from=stood_from,
        )
        for finding in review(course, watches):
            if finding.id in ids and is_asked(finding, course_on(courses, day.on), day.on):
                yield finding.id, day.on


def _has_climbed(day: ClosedDay, after: ClosedDay) -> bool:
    return after.state_before.rung > day.state_after.rung or has_climbed(day, after.dose)


def _joined(mornings: Sequence[date]) -> list[Time]:
    times: list[Time] = []
    for on in mornings:
        if times and times[-1].last + ONE_DAY == on:
            times[-1] = Time(times[-1].first, on)
        else:
            times.append(Time(on, on))
    return times


def _before(times: list[Time], today: date) -> list[Time]:
    return [each for each in times if each.last + ONE_DAY < today]
