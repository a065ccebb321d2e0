"""Where a client stands today: what makes them stand out anywhere on the site, and the whole, put together from the fold."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any, Protocol

from webapp.dosing.course import ClosedDay, is_sharp
from webapp.dosing.dose import Dose, dose
from webapp.dosing.settings import ARMS
from webapp.dosing.state import State
from webapp.practice import desk
from webapp.records import cases, events, routines
from webapp.records.cases import Case, Contact
from webapp.records.database import Database
from webapp.records.routines import RoutineVersion
from webapp.sync.diary import entries_of
from webapp.sync.fold import ArmAccount, accounts_of
from webapp.sync.local_day import local_day, zone_of

ONE_DAY = timedelta(days=1)
SILENT_FROM_DAYS = 3
NO_CONTACT = Contact(0, None)
ALL = -1


class _OfOneArm(Protocol):
    @property
    def mode(self) -> str: ...


class StandsOut:
    """A client with arms and silent days.

    Attributes:
        standings: One for each arm in training; its mode is training, resting or held.
        silent_days: Days in a row without a session, up to yesterday.
    """

    standings: Sequence[_OfOneArm]
    silent_days: int

    @property
    def is_silent(self) -> bool:
        """Say whether there was no session for three days or more."""
        return self.silent_days >= SILENT_FROM_DAYS

    @property
    def stands_out(self) -> bool:
        """Say whether there is anything but ordinary training."""
        return self.is_silent or any(stand.mode != "training" for stand in self.standings)


@dataclass(frozen=True)
class Standing:
    """One arm today.

    Attributes:
        arm: Which.
        mode: training, resting or held; held too where today itself brought sharp pain or a warning sign.
        state: At the start of today.
        reasons: Ids of the rules behind the state.
        dose: What today asks.
        top: The number of the ladder's highest rung.
        morning: The last morning's rating known, or None.
        morning_on: The day of that morning.
        account: The fold's own account.
        weights: The weights at home as entered with the routine it follows.
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
        """Say whether the hold comes from today's own report, so that today has no dose left."""
        return self.mode == "held" and self.state.mode != "held"

    @property
    def last_change(self) -> tuple[date, tuple[str, ...]] | None:
        """Return the day from which on this is asked, and the reasons, where the days after it changed nothing.

        None where the newest closed day did, where a hand or a new version did since, or where none ever has.
        """
        days = self.account.days
        if not days or days[-1].state_after != self.state or _has_changed(days[-1]):
            return None
        return next(((day.on + ONE_DAY, day.reasons) for day in reversed(days) if _has_changed(day)), None)


@dataclass(frozen=True)
class Line(StandsOut):
    """One client on their case page.

    Attributes:
        case: Who.
        today: The client's own local day.
        standings: One for each arm in training.
        version: The newest routine version pushed, or None.
        day: The day of the routine, from 1, or None before the first was received.
        last_session_on: The day of the last session, or None.
        silent_days: Days in a row without a session, up to yesterday; the review counts the same.
        contact: Phones joined and when one last synced.
    """

    case: Case
    today: date
    standings: tuple[Standing, ...]
    version: RoutineVersion | None
    day: int | None
    last_session_on: date | None
    silent_days: int
    contact: Contact


def _has_changed(day: ClosedDay) -> bool:
    before, after = day.state_before, day.state_after
    asked = [(state.mode, state.rung, state.ease, state.first_week_stage) for state in (before, after)]
    return asked[0] != asked[1]


def _last_morning(account: ArmAccount, today: date) -> tuple[int | None, date | None]:
    told = [on for on, known in account.facts.items() if known.morning is not None and on <= today]
    return (account.facts[max(told)].morning, max(told) + ONE_DAY) if told else (None, None)


def _is_sharp_today(account: ArmAccount, today: date) -> bool:
    known = account.facts.get(today)
    return known is not None and is_sharp(known)


def _is_shown(arm: str, account: ArmAccount, today: date) -> bool:
    # An arm that the routine no longer asks for is no longer silent or behind; but a hold of it must not be overlooked.
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
    # A phone whose clock once stood ahead must not make its client look busy for years.
    facts = [(on, known) for stand in standings for on, known in stand.account.facts.items()]
    done = [on for on, known in facts if known.sessions and on <= today + ONE_DAY]
    return max(done, default=None)


def days_without(last_session_on: date | None, begun: date | None, today: date) -> int:
    """Count the closed days since the last session, or since the beginning where there was none."""
    first = last_session_on + ONE_DAY if last_session_on else begun or today
    return max(0, (today - first).days)


def _begun_on(versions: Sequence[RoutineVersion]) -> date | None:
    received = [date.fromisoformat(version.received_on) for version in versions if version.received_on]
    return min(received, default=None)


def line_of(db: Database, case: Case, contact: Contact, now: datetime) -> Line:
    """Put together where one client stands.

    Args:
        db: The records.
        case: Who.
        contact: Their phones.
        now: The instant of the call, with a zone.
    """
    today = local_day(now, zone_of(db, case.id))
    versions = routines.of_client(db, case.id)
    accounts = accounts_of(db, case.id, today)
    shown = [arm for arm in ARMS if arm in accounts and _is_shown(arm, accounts[arm], today)]
    standings = tuple(_standing(arm, accounts[arm], versions, today) for arm in shown)
    last_session_on, begun = _last_session(standings, today), _begun_on(versions)
    return Line(
        case=case,
        today=today,
        standings=standings,
        version=versions[0] if versions else None,
        day=(today - begun).days + 1 if begun else None,
        last_session_on=last_session_on,
        silent_days=days_without(last_session_on, begun, today),
        contact=contact,
    )


def line_for(case: Case) -> Line:
    """Put together where one client of who is signed in stands now."""
    contacts = cases.contacts(desk.records(), desk.signed_in().id)
    return line_of(desk.records(), case, contacts.get(case.id, NO_CONTACT), desk.now())


def notes_read(db: Database, client: int) -> dict[int, date]:
    """Return, by routine version, the first day on which a phone says that its note was read."""
    entries = entries_of(events.latest_of(db, client, ("note_read",), ALL))
    return {event.body["version"]: event.on for event in sorted(entries, key=lambda event: event.on, reverse=True)}
