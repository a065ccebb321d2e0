"""Puts a paper diary on record: each day becomes entries of the practice, with the day that they are of.

They go into the log like the entries of a phone, so the fold counts them and a phone of the client gets them.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date, datetime
from typing import Any

import msgspec

from webapp.events.daybook import corrected_entries, is_sport_on_the_way
from webapp.events.kinds import Event
from webapp.library.shelf import the_shelf
from webapp.records import events
from webapp.records.database import Database, write
from webapp.sync.folding.fold import accounts_of
from webapp.sync.folding.returning import way_back
from webapp.sync.from_paper import typed_bodies
from webapp.sync.from_paper.typed_bodies import Asked, entry_id, sheet_dose
from webapp.sync.from_paper.typed_days import NOTHING, Days, OnRecord, Said, kept, left, merged, on_record
from webapp.sync.log import practice_events
from webapp.sync.log.diary import entries_of
from webapp.sync.log.facts import sharp_entries
from webapp.sync.log.local_day import local_day, zone_of

_FIRST_VERSION = 1
"""The version that an entry of a day before the first routine names, since it must name one."""


class MovedError(Exception):
    """The log of these days is not what the page showed; nothing was stored."""


class TooEarlyError(Exception):
    """Nothing was asked on a day yet, so it cannot be weighed; nothing was stored.

    Attributes:
        on: The first such day.
    """

    def __init__(self, on: date) -> None:
        super().__init__(on.isoformat())
        self.on = on


class StopLoweredError(Exception):
    """What was typed in on an earlier day stopped an arm, and would not any more: only a release ends a stop. Nothing was stored.

    Attributes:
        on: The day of the entry.
    """

    def __init__(self, on: date) -> None:
        super().__init__(on.isoformat())
        self.on = on


@dataclass(frozen=True)
class OnPaper:
    """What is typed in: numbers by day and arm, minutes of sport by day, and warning signs with their day.

    Attributes:
        days: The numbers; a day that is here is typed in as a whole.
        sport: Minutes by day; 0 for none.
        signs: (day, id of the sign).
        weighed_on: The day by whose dose the work is weighed, where that is not the day of the sheet.
    """

    days: Days
    sport: Mapping[date, int] = field(default_factory=dict)
    signs: tuple[tuple[date, str], ...] = ()
    weighed_on: date | None = None

    @property
    def span(self) -> tuple[date, date]:
        """The first and the last day; a ValueError where there is none."""
        known = {*self.days, *self.sport, *(on for on, _ in self.signs)}
        return min(known), max(known)


@dataclass(frozen=True)
class _Desk:
    """Who types in, for which client, from which sheet."""

    db: Database
    client: int
    public_id: str
    by: str
    now: datetime


def type_in(
    db: Database,
    client: tuple[int, str],
    paper: OnPaper,
    by: str,
    now: datetime,
    *,
    seen: str | None = None,
    sheet_on: date | None = None,
) -> int:
    """Put what was typed in on record, all of it or nothing. Typing the same in again changes nothing.

    Args:
        db: The records.
        client: The client's key and public id.
        paper: What was typed in.
        by: The name of who typed it in.
        now: The instant of the call, in UTC.
        seen: The seal of the days as the page showed them; what is empty now was taken out. None where paper only adds.
        sheet_on: The day whose dose the sheet shows; None where each day was done as it was asked.

    Returns:
        The number of entries written.

    Raises:
        MovedError: Another entry of these days came in since.
        TooEarlyError: A day lies before the client's first routine.
        StopLoweredError: An entry of an earlier day of typing would no longer stop an arm.
    """
    if not (paper.days or paper.sport or paper.signs):
        return 0
    with write(db):
        record = on_record(db, client[0], *paper.span)
        desk = _Desk(db, *client, by, now)
        sheets = _doses(desk, sheet_on, paper.weighed_on or sheet_on) if sheet_on else {}
        written = _write_all(desk, paper, record, sheets, only_adds=seen is None)
        if written and seen not in (None, record.seal):
            raise MovedError
    return written


def _write_all(desk: _Desk, paper: OnPaper, record: OnRecord, sheets: Mapping[str, Asked], *, only_adds: bool) -> int:
    written = 0
    for on, arms in sorted(paper.days.items()):
        wanted = {arm: _wanted(said, record, on, arm, only_adds=only_adds) for arm, said in arms.items()}
        if wanted != {arm: record.typed.get(on, {}).get(arm, NOTHING) for arm in wanted}:
            written += _write_day(desk, on, wanted, sheets)
    for on, minutes in paper.sport.items():
        if minutes != record.sport.get(on, 0):
            written += _put(desk, on, "exposure_noted", typed_bodies.sport_body(minutes, desk.by, _outing(desk, on)))
    return written + sum(_put_sign(desk, on, sign) for on, sign in paper.signs)


def _wanted(said: Said, record: OnRecord, on: date, arm: str, *, only_adds: bool) -> Said:
    typed, phone = (days.get(on, {}).get(arm, NOTHING) for days in (record.typed, record.phones))
    new = left(said, phone)
    return merged(new, typed) if only_adds else kept(new, said, typed)


def _write_day(desk: _Desk, on: date, wanted: Mapping[str, Said], sheets: Mapping[str, Asked]) -> int:
    written = _put(desk, on, "morning_reported", typed_bodies.morning_body(wanted, desk.by))
    body = None
    if any(said.has_session for said in wanted.values()):
        accounts = accounts_of(desk.db, desk.client, on)
        if not {arm for arm, said in wanted.items() if said.done} <= set(accounts):
            raise TooEarlyError(on)
        own = {arm: sheet_dose(account.plan, account.state) for arm, account in accounts.items()}
        doses = {arm: Asked(dose, dose) for arm, dose in own.items()} | dict(sheets)
        version = max((account.version for account in accounts.values()), default=_FIRST_VERSION)
        body = typed_bodies.session_body(version, wanted, doses, desk.by)
    return written + _put(desk, on, "session_finished", body)


def _outing(desk: _Desk, on: date) -> dict[str, Any]:
    """Return what sport of a day has to say beside its minutes: something only where a way back is open that no phone has told of."""
    way = way_back(desk.db, desk.client, on)
    known = corrected_entries(entries_of(events.since_day(desk.db, desk.client, on.isoformat())))
    own = entry_id(desk.public_id, on, "exposure_noted")
    if way is None or any(each.on == on and each.id != own and is_sport_on_the_way(each) for each in known):
        return {}
    return typed_bodies.outing_of(way, sorted(accounts_of(desk.db, desk.client, on)))


def _doses(desk: _Desk, sheet_on: date, weighed_on: date) -> dict[str, Asked]:
    read, weighed = (
        {arm: sheet_dose(each.plan, each.state) for arm, each in accounts_of(desk.db, desk.client, on).items()}
        for on in (sheet_on, weighed_on)
    )
    return {arm: Asked(dose, weighed.get(arm, dose)) for arm, dose in read.items()}


def _put_sign(desk: _Desk, on: date, sign: str) -> int:
    known = next(each for each in the_shelf().warnings if each.id == sign)
    arms = ["right", "left"] if known.is_whole else sorted(accounts_of(desk.db, desk.client, on)) or ["right", "left"]
    body = {"sign": sign, "arms": arms, "holds": known.holds, "typed_by": desk.by}
    return _put(desk, on, "warning_raised", body, sign)


def _put(desk: _Desk, on: date, kind: str, body: dict[str, Any] | None, more: str = "") -> int:
    """Write one entry, or the correction that makes an earlier one say this; return how many entries that took."""
    id_ = entry_id(desk.public_id, on, f"{kind} {more}".strip())
    logged = events.since_day(desk.db, desk.client, on.isoformat())
    entries = entries_of(logged)
    if not any(each.id == id_ for each in entries):
        if body is None:
            return 0
        practice_events.put(desk.db, desk.client, kind, on, body, desk.now, id_)
        return 1
    present = next((each for each in corrected_entries(entries) if each.id == id_), None)
    if _without_name(present.body if present else None) == _without_name(body):
        return 0
    if present and _is_of_an_earlier_day(desk, present) and _stopped(present, present.body) - _stopped(present, body):
        raise StopLoweredError(on)
    correction = {"replaces": id_, "body": body}
    practice_events.put(desk.db, desk.client, "entry_corrected", on, correction, desk.now)
    return 1


def _is_of_an_earlier_day(desk: _Desk, entry: Event) -> bool:
    zone = zone_of(desk.db, desk.client)
    return local_day(datetime.fromisoformat(entry.at), zone) < local_day(desk.now, zone)


def _stopped(entry: Event, body: dict[str, Any] | None) -> set[str]:
    """Return the arms that an entry stops where this is its body."""
    return set() if body is None else set(sharp_entries([replace(entry, body=body)]))


def _without_name(body: Mapping[str, Any] | None) -> bytes:
    numbers = None if body is None else {key: value for key, value in body.items() if key != "typed_by"}
    return msgspec.json.encode(numbers, order="deterministic")
