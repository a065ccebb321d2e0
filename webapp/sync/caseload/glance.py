"""The glance: what the caseload shows of a client from the whole log, computed ahead for some days like the summary.

It holds the findings of the review, where each arm stands, and a strip of the last days. It is kept beside the summary, and not in
it, because a sync must not fold the whole log.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

import msgspec

from webapp.dosing.course import NOTHING, is_sharp
from webapp.dosing.responses import SHOWN
from webapp.events.course_set import course_on
from webapp.records import events, routines
from webapp.records.database import Database
from webapp.records.summaries import StoredSummary
from webapp.sync.case.finishing import courses_of
from webapp.sync.case.letters import thread_of
from webapp.sync.case.screening import Screening, screening_of
from webapp.sync.caseload.stopped_way import StoppedWay, stopped_ways
from webapp.sync.caseload.strip import STRIP_DAYS, Strip, sport_days, strip_of
from webapp.sync.folding.arm_account import ArmAccount
from webapp.sync.folding.fold import ONE_DAY, Course, account_at, read_course
from webapp.sync.folding.review import Noticed, noticed

DAYS_AHEAD = 4


@dataclass(frozen=True)
class Spotted:
    """A finding as the caseload shows it.

    Attributes:
        arm: The arm.
        id: The id of the finding.
        since: The first day that shows it.
        last: The last day that shows it.
        count: The number of days or mornings that show it.
        numbers: Further numbers that the words need, by name.
        has_offer: Whether the case page has an offer below it.
    """

    arm: str
    id: str
    since: date
    last: date
    count: int
    numbers: tuple[tuple[str, float], ...] = ()
    has_offer: bool = False


@dataclass(frozen=True)
class ArmStand:
    """Where an arm stands at the start of a day.

    Attributes:
        arm: The arm.
        rung: The rung, 1 at the bottom.
        top: The highest rung of the ladder.
        ease: Steps of range that are eased away, 0 to 2.
        first_week_day: 1 to 7 in the first week, else 0.
        response: How the last closed day went, one of the nine that people read; "" before the first.
        days: On how many days in a row it went so.
    """

    arm: str
    rung: int
    top: int
    ease: int
    first_week_day: int
    response: str
    days: int


@dataclass(frozen=True)
class DayGlance:
    """What is seen of a client on a day.

    Attributes:
        on: The day.
        arms: The arms in training or held.
        spotted: The findings in the order of the review's table.
        stopped: The way back to sport or work, where it has stopped; else None.
    """

    on: date
    arms: tuple[ArmStand, ...]
    spotted: tuple[Spotted, ...]
    stopped: StoppedWay | None = None


@dataclass(frozen=True)
class Glance:
    """What the caseload shows of a client from the whole log.

    Attributes:
        days: One entry for each of some days, from the day on which the glance was made.
        strips: The strip of each arm, from `STRIP_DAYS` before the first of those days up to the last.
        written_on: The day of the oldest letter that the practice has not read, or None.
        waits_for: What the first session waits for: screening, intake, practitioner or nothing.
        screened_on: The day of the last answer to the safety questions or of the intake that waits, or None.
    """

    days: tuple[DayGlance, ...]
    strips: tuple[Strip, ...]
    written_on: date | None
    waits_for: str
    screened_on: date | None

    def on(self, day: date) -> DayGlance | None:
        """Return what is seen on a day, or None if the glance does not cover the day."""
        return next((each for each in self.days if each.on == day), None)


Accounts = dict[str, ArmAccount]


def _ahead(course: Course, today: date) -> Iterator[tuple[date, Accounts]]:
    """Yield each of the coming days with the accounts up to it; each day's fold goes on where that of the day before ended."""
    start = course.first_day(today)
    reached = {arm: course.run(arm, None, start, today) for arm in course.arms()}
    for on in (today + number * ONE_DAY for number in range(DAYS_AHEAD)):
        if on > today:
            for arm, (days, progress) in reached.items():
                more, after = course.run(arm, progress, on - ONE_DAY, on)
                reached[arm] = [*days, *more], after
        entered = {arm: (days, course.enter(arm, progress, on)) for arm, (days, progress) in reached.items()}
        accounts = {arm: account_at(course, arm, days, now, (), on) for arm, (days, now) in entered.items() if now}
        yield on, {arm: account for arm, account in accounts.items() if _is_shown(arm, account, on)}


def _is_shown(arm: str, account: ArmAccount, today: date) -> bool:
    is_stopped = account.state.mode == "held" or is_sharp(account.facts.get(today, NOTHING))
    return arm in account.plan.client.arms or is_stopped


def _stand(arm: str, account: ArmAccount) -> ArmStand:
    state, days = account.state, account.days
    response = SHOWN[days[-1].response] if days else ""
    run = next((count for count, day in enumerate(reversed(days)) if SHOWN[day.response] != response), len(days))
    return ArmStand(arm, state.rung, account.plan.ladder.top, state.ease, state.first_week_day, response, run)


def _spotted(each: Noticed) -> Spotted:
    found = each.finding
    last = found.evidence[-1][0] if found.evidence else found.since
    return Spotted(each.arm, found.id, found.since, last, found.count, found.numbers, each.offer is not None)


def glance_of(db: Database, client: int, course: Course, today: date) -> Glance:
    """Compute the glance of a client from the whole log.

    Args:
        db: The records.
        client: The client's key.
        course: The client's course, with the facts of all days.
        today: The client's local day.
    """
    newest = course.plans[max(course.plans)] if course.plans else None
    courses, days = courses_of(db, client), []
    ways = stopped_ways(db, client, course, [today + number * ONE_DAY for number in range(DAYS_AHEAD)])
    accounts: Accounts = {}
    for on, accounts in _ahead(course, today):
        stands = tuple(_stand(arm, account) for arm, account in accounts.items())
        found = noticed(accounts, on, newest, course_on(courses, on))
        days.append(DayGlance(on, stands, tuple(map(_spotted, found)), ways.get(on)))
    strips = _strips(accounts, sport_days(db, client, today - STRIP_DAYS * ONE_DAY), today)
    unread = [letter.on for letter in thread_of(db, client) if letter.is_unread]
    screening = screening_of(db, client)
    return Glance(tuple(days), strips, min(unread, default=None), screening.waits_for, _screened_on(screening))


def _strips(accounts: Accounts, sport: frozenset[date], today: date) -> tuple[Strip, ...]:
    days = [today + number * ONE_DAY for number in range(1 - STRIP_DAYS, DAYS_AHEAD)]
    return tuple(
        strip_of(arm, account.plan.client.usual, account.facts, account.days, sport, days)
        for arm, account in sorted(accounts.items())
    )


def _screened_on(screening: Screening) -> date | None:
    entries = [*screening.answers, *([screening.own_intake] if screening.own_intake else ())]
    return max((entry.on for entry in entries), default=None)


def work_out(db: Database, client: int, course: Course, today: date) -> StoredSummary:
    """Return a client's glance for storing; must be called inside the read in which the whole log was read."""
    text = msgspec.json.encode(glance_of(db, client, course, today)).decode()
    return StoredSummary(client, events.newest_seq(db, client), routines.newest_number(db, client), text)


def read_glance(text: str) -> Glance:
    """Read a stored glance."""
    return msgspec.json.decode(text, type=Glance)


def differs(db: Database, kept: StoredSummary) -> bool:
    """Say whether a stored glance differs from what the log now gives for the day on which it was made."""
    glance = read_glance(kept.content)
    course = read_course(db, kept.client, events.of_client(db, kept.client))
    return glance != glance_of(db, kept.client, course, glance.days[0].on)
