"""A correction of the intake by the practice: stored with the client, and one event that says what changed.

It changes no dose by itself. A push of the routine desk takes the corrected body and arms into the next version.
"""

import hashlib
import json
from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime
from typing import Any, NamedTuple

from webapp.dosing.settings import ARMS
from webapp.events.kinds import INTAKE_PRIVATE, INTAKE_SAID, Event
from webapp.records import cases, events, routines
from webapp.records.cases import Case
from webapp.records.database import Database, write
from webapp.records.routines import RoutineVersion
from webapp.sync.log import practice_events
from webapp.sync.log.diary import entries_of
from webapp.sync.log.local_day import local_day, zone_of

CORRECTED = "intake_corrected"
OF_THE_DOSE = ("arms", "mass_kg", "height_m", "sex")
_ALL = -1
_SEAL_LETTERS = 16
_DECIMALS = 6
_UNSAID = "unsaid"


class IntakeMovedError(Exception):
    """The intake was corrected, or the client renamed, after the page was shown."""


class ArmInUseError(Exception):
    """An arm that a routine was pushed for cannot be taken out of the intake; `arm` is its name."""

    def __init__(self, arm: str) -> None:
        super().__init__(arm)
        self.arm = arm


class Correction(NamedTuple):
    """What an intake is to be: by field of `INTAKE_SAID` and `INTAKE_PRIVATE`; why, and by whom."""

    fields: Mapping[str, Any]
    reason: str
    by: str


def fields_of(case: Case) -> dict[str, Any]:
    """Return the fields of an intake that can be corrected; a sex that was not said is "unsaid"."""
    kept = {"note": "", "sex": None} | dict(case.intake) | {"name": case.name}
    kept["sex"] = kept["sex"] or _UNSAID
    return {field: kept.get(field) for field in (*INTAKE_SAID, *INTAKE_PRIVATE)}


def seal(case: Case) -> str:
    """Return a short hash of these fields; it changes with each correction."""
    return hashlib.sha256(json.dumps(fields_of(case), sort_keys=True).encode()).hexdigest()[:_SEAL_LETTERS]


def corrections_of(db: Database, client: int) -> list[Event]:
    """List the corrections of a client's intake, the newest first."""
    return entries_of(events.latest_of(db, client, (CORRECTED,), _ALL))[::-1]


def ahead_of(case: Case, version: RoutineVersion | None) -> list[str]:
    """List what of body and arms differs from a version, so that the dose follows it only after a push."""
    if version is None:
        return []
    of_intake, of_version = fields_of(case), fields_of(case) | dict(version.settings)
    of_version["sex"] = of_version["sex"] or _UNSAID
    return [field for field in OF_THE_DOSE if not _is_same(of_version[field], of_intake[field])]


def correct(
    db: Database, practitioner: int, public_id: str, wanted: Correction, seen: str, *, now: datetime
) -> list[str]:
    """Store a correction and its event, in one write; the same form sent twice writes once.

    Args:
        db: The records.
        practitioner: The key of the practitioner, who must have the client.
        public_id: The client's id in addresses.
        wanted: The correction, free of faults.
        seen: The seal of the intake that the page showed.
        now: The instant of the call, in UTC.

    Returns:
        The fields that were changed; none where the intake is so already.

    Raises:
        IntakeMovedError: Somebody else changed it meanwhile, or the client is not there any more; nothing was stored.
        ArmInUseError: An arm that a routine was pushed for is left out; nothing was stored.
        EventError: The correction does not fit the event's rules.
    """
    with write(db):
        case = cases.find(db, practitioner, public_id)
        if case is None:
            raise IntakeMovedError
        changes = list(_changes(fields_of(case), wanted.fields))
        if changes and seen != seal(case):
            raise IntakeMovedError
        for arm in _in_use(routines.latest(db, case.id)):
            if arm not in wanted.fields["arms"]:
                raise ArmInUseError(arm)
        if changes:
            _store(db, case, wanted, changes, now)
        return [each["field"] for each in changes]


def _store(db: Database, case: Case, wanted: Correction, changes: list[dict[str, Any]], now: datetime) -> None:
    new = {each["field"]: wanted.fields[each["field"]] for each in changes}
    intake = {**case.intake, **{field: value for field, value in new.items() if field != "name"}}
    intake["sex"] = None if intake.get("sex") == _UNSAID else intake.get("sex")
    rungs = intake.get("start_rungs", {})
    intake["start_rungs"] = {arm: rung for arm, rung in rungs.items() if arm in intake["arms"]}
    cases.complete(db, case.id, intake)
    cases.rename(db, case.id, new.get("name", case.name))
    body = {"changes": changes, "reason": wanted.reason, "by": wanted.by}
    practice_events.put(db, case.id, CORRECTED, local_day(now, zone_of(db, case.id)), body, now)


def _changes(was: Mapping[str, Any], now: Mapping[str, Any]) -> Iterator[dict[str, Any]]:
    for field in (field for field in was if not _is_same(was[field], now[field])):
        is_private = field in INTAKE_PRIVATE
        yield {"field": field} if is_private else {"field": field, "was": was[field], "now": now[field]}


def _is_same(was: Any, now: Any) -> bool:
    """Whether two values of a field are the same: a number as the form writes it, arms in any order."""
    if isinstance(was, (int, float)) and isinstance(now, (int, float)):
        return round(was, _DECIMALS) == round(now, _DECIMALS)
    return sorted(was) == sorted(now) if isinstance(was, list) else bool(was == now)


def _in_use(version: RoutineVersion | None) -> Sequence[str]:
    return [arm for arm in ARMS if version and arm in version.settings["arms"]]
