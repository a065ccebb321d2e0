"""The stored releases of a client's holds: who, when, why, and the rung before and after."""

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
from webapp.sync.case.hold import SharpReport, sharp_of
from webapp.sync.folding.arm_account import ArmAccount
from webapp.sync.folding.fold import ONE_DAY
from webapp.sync.log.diary import entries_of


@dataclass(frozen=True)
class Released:
    """A release of one arm.

    Attributes:
        on: The first day on which the release counts.
        at: The instant when it was written, as ISO text.
        stood: The rung and ease of the arm while it was held; None if the account does not reach back so far.
        starts: The rung and ease at which the arm starts again.
        said: Fields of the event: reason, by and, if the release needed it, seen_by.
        does_count: Whether the release covers every sharp report about a day before `on`; if not, the hold goes on.
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
        client: The client's key.
        arm: "right" or "left".
        account: The arm's account up to `today`.
        today: The first open day.
    """
    released = entries_of(events.of_kind(db, client, "hold_released"))
    of_arm = [event for event in released if arm in event.body["arms"]]
    # Most clients were never held; the whole log is read only for clients with a release.
    reports = sharp_of(db, client, arm) if of_arm else []
    releases = [_released(event, event.body["arms"][arm], reports, account, today) for event in of_arm]
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
    """Return the state at the start of a day: for today or later the present state, None before the account begins."""
    if day >= today:
        return account.state
    return next((each.state_before for each in account.days if each.on == day), None)
