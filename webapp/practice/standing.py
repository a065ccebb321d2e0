"""A client today: each arm's state and dose from the fold, the silent days, and whether the client needs attention."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any, Protocol

from webapp.dosing.course import is_sharp
from webapp.dosing.dose import Dose, dose
from webapp.dosing.settings import ARMS
from webapp.dosing.state import State
from webapp.events.course_set import DAYS_COUNTED, SetCourse, course_on
from webapp.practice import desk
from webapp.records import cases, routines
from webapp.records.cases import Case, Contact
from webapp.records.database import Database
from webapp.records.routines import Pushed, RoutineVersion
from webapp.sync.case.finishing import courses_of
from webapp.sync.case.letters import thread_of
from webapp.sync.case.screening import Screening, screening_of
from webapp.sync.case.to_ask import asked_until
from webapp.sync.caseload.causes import PhonesAsked
from webapp.sync.folding.arm_account import ArmAccount
from webapp.sync.folding.fold import ONE_DAY, accounts_of
from webapp.sync.log.local_day import local_day, zone_of

SILENT_FROM_DAYS = 3
NO_CONTACT = Contact(0, None)


class _OfOneArm(Protocol):
    @property
    def mode(self) -> str: ...


class StandsOut:
    """A client with arms and silent days.

    Attributes:
        standings: The arms that are shown; the mode of each is training, resting or held.
        silent_days: Days in a row without a session, up to yesterday.
        start_waits: Whether the first session waits for the practitioner.
        unread_letters: Letters of the client that the practice has not read.
        is_to_ask: Whether the client told of something to ask about.
        course: What the practice has set for today: training, maintenance or ended.
    """

    standings: Sequence[_OfOneArm]
    silent_days: int
    start_waits: bool
    unread_letters: int
    is_to_ask: bool
    course: SetCourse

    @property
    def is_silent(self) -> bool:
        """Whether there was no session for three days or more; in maintenance for seven. Who has ended is never silent."""
        most = {"training": SILENT_FROM_DAYS, "maintenance": DAYS_COUNTED}
        return self.course.to in most and self.silent_days >= most[self.course.to]

    @property
    def stands_out(self) -> bool:
        """Whether anything of the client waits to be seen; of who has ended only a letter, something to ask about, or a hold."""
        modes = {stand.mode for stand in self.standings}
        if self.course.to == "ended":
            return self.unread_letters > 0 or self.is_to_ask or "held" in modes
        waits = self.start_waits or self.is_to_ask or self.unread_letters > 0
        return self.is_silent or waits or bool(modes - {"training"})


@dataclass(frozen=True)
class Standing:
    """One arm today.

    Attributes:
        arm: The arm.
        mode: training, resting or held; also held if sharp pain or a warning sign was reported today.
        state: The state at the start of today.
        reasons: Ids of the rules that led to the state.
        dose: Today's dose.
        top: The number of the ladder's highest rung.
        morning: The rating of the last morning report, or None.
        morning_on: The day of that morning, or None.
        account: The arm's account from the fold.
        weights: The weights at home, as entered with the version that the arm follows.
    """

    arm: str
    mode: str
    state: State
    reasons: tuple[str, ...]
    dose: Dose
    top: int
    morning: int | None
    morning_on: date | None
    account: ArmAccount
    weights: tuple[Mapping[str, Any], ...]

    @property
    def is_held_since_today(self) -> bool:
        """Whether the hold comes from a report of today, so that the rest of today has no dose."""
        return self.mode == "held" and self.state.mode != "held"

    @property
    def last_change(self) -> tuple[date, tuple[str, ...]] | None:
        """The first day with the present dose, and the ids of the rules that changed it; None if today began it."""
        changed, days = self.account.changed, self.account.days
        is_today = not days or changed is None or changed.on > days[-1].on
        return None if is_today or changed is None else (changed.on, changed.why)


@dataclass(frozen=True)
class Line(StandsOut):
    """One client on the case page.

    Attributes:
        case: The client.
        today: The client's own local day.
        standings: The arms that are shown.
        version: The newest routine version that was pushed, or None.
        day: The day of the routine, from 1, or None before a phone received the first version.
        last_session_on: The day of the last session, or None.
        silent_days: Days in a row without a session, up to yesterday, counted as in the review.
        contact: The number of joined phones, and the instant of the last sync.
        screening: What the client answered before the first session.
        start_waits: Whether the first session waits for the practitioner.
        unread_letters: Letters of the client that the practice has not read.
        is_to_ask: Whether the client told of something to ask about.
        course: The course in force today.
        courses: Every course that was set, by its first day.
    """

    case: Case
    today: date
    standings: tuple[Standing, ...]
    version: RoutineVersion | None
    day: int | None
    last_session_on: date | None
    silent_days: int
    contact: Contact
    screening: Screening
    start_waits: bool
    unread_letters: int
    is_to_ask: bool
    course: SetCourse
    courses: tuple[SetCourse, ...]


def _last_morning(account: ArmAccount, today: date) -> tuple[int | None, date | None]:
    reported = [on for on, known in account.facts.items() if known.morning is not None and on <= today]
    return (account.facts[max(reported)].morning, max(reported) + ONE_DAY) if reported else (None, None)


def _is_sharp_today(account: ArmAccount, today: date) -> bool:
    known = account.facts.get(today)
    return known is not None and is_sharp(known)


def _is_shown(arm: str, account: ArmAccount, today: date) -> bool:
    # An arm that is no longer in the routine is left out, but not if it is held: a hold must not be overlooked.
    return arm in account.plan.client.arms or account.state.mode == "held" or _is_sharp_today(account, today)


def _standing(arm: str, account: ArmAccount, versions: Sequence[RoutineVersion], today: date) -> Standing:
    followed = next(version for version in versions if version.version == account.version)
    morning, morning_on = _last_morning(account, today)
    is_sharp = _is_sharp_today(account, today)
    return Standing(
        arm=arm,
        mode="held" if is_sharp else account.state.mode,
        state=account.state,
        reasons=("stop",) if is_sharp and account.state.mode != "held" else account.reasons,
        dose=Dose("held") if is_sharp else dose(account.plan, account.state),
        top=account.plan.ladder.top,
        morning=morning,
        morning_on=morning_on,
        account=account,
        weights=tuple(followed.settings["weights"]),
    )


def _last_session(standings: Sequence[Standing], today: date) -> date | None:
    # A session later than tomorrow comes from a clock that was ahead. If it counted, the client would never look silent.
    facts = [(on, known) for stand in standings for on, known in stand.account.facts.items()]
    done = [on for on, known in facts if known.sessions and on <= today + ONE_DAY]
    return max(done, default=None)


def days_without(last_session_on: date | None, begun: date | None, course: SetCourse, today: date) -> int:
    """Return the number of closed days since the last session, or, without a session, since the routine began.

    Days before the course in force are not counted: they asked for something else.
    """
    first = last_session_on + ONE_DAY if last_session_on else begun or today
    first = max(first, course.since or first)
    return max(0, (today - first).days)


def phones_asked(pushed: Pushed | None, contact: Contact) -> PhonesAsked:
    """Return what the causes need to know of a client's phones; a version that has arrived is not on its way."""
    is_on_its_way = pushed is not None and pushed.received_at is None
    pushed_on = local_day(datetime.fromisoformat(pushed.pushed_at), "UTC") if pushed and is_on_its_way else None
    return PhonesAsked(contact.phones, contact.to_confirm, pushed_on)


def _begun_on(versions: Sequence[RoutineVersion]) -> date | None:
    received = [date.fromisoformat(version.received_on) for version in versions if version.received_on]
    return min(received, default=None)


def line_of(db: Database, case: Case, contact: Contact, now: datetime) -> Line:
    """Return one client today.

    Args:
        db: The records.
        case: The client.
        contact: The client's phones.
        now: The instant of the call, with a zone.
    """
    today = local_day(now, zone_of(db, case.id))
    versions = routines.of_client(db, case.id)
    accounts = accounts_of(db, case.id, today)
    shown = [arm for arm in ARMS if arm in accounts and _is_shown(arm, accounts[arm], today)]
    standings = tuple(_standing(arm, accounts[arm], versions, today) for arm in shown)
    last_session_on, begun = _last_session(standings, today), _begun_on(versions)
    screening, courses = screening_of(db, case.id), courses_of(db, case.id)
    return Line(
        case=case,
        today=today,
        standings=standings,
        version=versions[0] if versions else None,
        day=(today - begun).days + 1 if begun else None,
        last_session_on=last_session_on,
        silent_days=days_without(last_session_on, begun, course_on(courses, today), today),
        contact=contact,
        screening=screening,
        start_waits=screening.waits_for == "practitioner",
        unread_letters=sum(letter.is_unread for letter in thread_of(db, case.id)),
        is_to_ask=asked_until(db, case.id, today) is not None,
        course=course_on(courses, today),
        courses=courses,
    )


def line_for(case: Case) -> Line:
    """Return one client of the practitioner who is signed in, today."""
    contacts = cases.contacts(desk.records(), desk.signed_in().id)
    return line_of(desk.records(), case, contacts.get(case.id, NO_CONTACT), desk.now())
