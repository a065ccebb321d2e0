"""A client without a phone: the sheet was handed out, and the practitioner has typed in the diary of the weeks since."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from life import intake_of, routine_of, settings_of
from people import PRACTITIONER
from phone import ZONE
from story import Story

from webapp.records import cases, routines
from webapp.sync.from_paper import handing_out, typing_in
from webapp.sync.from_paper.typed_days import WHOLE_PER_CENT, Said
from webapp.sync.log.local_day import local_day

if TYPE_CHECKING:
    from datetime import date

    from webapp.records.database import Database

WEEK = 7
ON_PAPER = Story(
    "Oswin Pell",
    "oswin-pell",
    "inner_elbow",
    ("left",),
    {"mass_kg": 74.0, "height_m": 1.74, "sex": "male"},
    ((0, "kg"), (0.5, "kg"), (1, "kg")),
    2,
    "Repairs organ bellows. Wants no phone near the workbench; brings the sheet along each week.",
)
# For each day its own morning, and the worst of its session; None for a day without one. The last day is yesterday.
DIARY = (
    (1, 2),
    (2, 2),
    (2, 1),
    (1, 1),
    (1, None),
    (2, 2),
    (1, 2),
    (1, 1),
    (2, 3),
    (3, 2),
    (1, 1),
    (1, 2),
    (2, None),
    (1, 1),
)


def enrol_on_paper(db: Database, owner: int, now: datetime) -> None:
    """Add the client, hand the sheet out, and type the diary in, a week at a time."""
    today, began = local_day(now, ZONE), now - timedelta(days=len(DIARY))
    first = today - timedelta(days=len(DIARY))
    case = cases.add(db, owner, ON_PAPER.public_id, ON_PAPER.name, "en", intake_of(ON_PAPER), began)
    routines.push(db, case.id, routine_of(ON_PAPER), settings_of(ON_PAPER), "One sheet a week.", owner, began)
    handing_out.hand_out(db, case.id, 1, first, asked_signs=True, now=began)
    for number in range(0, len(DIARY), WEEK):
        monday = first + timedelta(days=number)
        paper = typing_in.OnPaper(_week(monday, DIARY[number : number + WEEK]))
        at = min(now, began + timedelta(days=number + WEEK))
        typing_in.type_in(db, (case.id, case.public_id), paper, PRACTITIONER, at, sheet_on=monday)


def _week(first: date, numbers: tuple[tuple[int, int | None], ...]) -> dict[date, dict[str, Said]]:
    return {
        first + timedelta(days=count): {
            arm: Said(morning, worst, None if worst is None else WHOLE_PER_CENT) for arm in ON_PAPER.arms
        }
        for count, (morning, worst) in enumerate(numbers)
    }
