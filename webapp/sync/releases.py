"""The releases of a client's holds, as they stand on record: who, when, why, and from where to where."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from webapp.dosing.dose import ease_of
from webapp.dosing.release import Return
from webapp.dosing.state import State
from webapp.events.kinds import Event
from webapp.records import events
from webapp.records.database import Database
from webapp.sync.diary import entries_of
from webapp.sync.fold import ONE_DAY, ArmAccount
from webapp.sync.hold import SharpReport, sharp_of


@dataclass(frozen=True)
class Released:
    """One release of one arm.

    Attributes:
        on: The first day on which it counts.
        at: The instant of writing, as ISO text.
        stood: Where the arm stood while held; None where the account does not reach back so far.
        starts: Where it starts again.
        said: The entry's own fields: reason, by and, where it was asked, seen_by.
        does_count: Whether it covers every sharp report about a day before `on`; otherwise the hold goes on.
    """

    on: date
    at: str
    stood: Return | None
    starts: Return
    said: dict[str, Any]
    does_count: bool


def releases_of(db: Database, client: int, arm: str, account: ArmAccount, today: date) -> list[Released]:
    """List the releases of one arm, the newest first.

    Args:
        db: The records.
        client: Whose.
        arm: "right" or "left".
        account: The arm's account up to `today`.
        today: The first open day.
    """
    released = entries_of(events.of_kind(db, client, "hold_released"))
    told = [event for event in released if arm in event.body["arms"]]
    # Most clients were never held: the whole log is read for those who were.
    reports = sharp_of(db, client, arm) if told else []
    releases = [_released(event, event.body["arms"][arm], reports, account, today) for event in told]
    return sorted(releases, key=lambda each: (each.on, each.at), reverse=True)


def _released(
    event: Event, said: dict[str, Any], reports: Sequence[SharpReport], account: ArmAccount, today: date
) -> Released:
    stood = _state_on(account, event.on - ONE_DAY, today)
    does_count = all(report.on >= event.on or report.entry.id in said["covers"] for report in reports)
    starts = Return(said["rung"], ease_of(said["range"]))
    after = _state_on(account, event.on, today)
    if does_count and after is not None and after.mode != "held" and event.on <= today:
        starts = _return(after)
    return Released(event.on, event.at, _return(stood) if stood else None, starts, said, does_count)


def _return(state: State) -> Return:
    return Return(state.rung, state.ease)


def _state_on(account: ArmAccount, day: date, today: date) -> State | None:
    """Return the state at the start of a day; of today or a later day the state now, None before the account."""
    if day >= today:
        return account.state
    return next((each.state_before for each in account.days if each.on == day), None)
