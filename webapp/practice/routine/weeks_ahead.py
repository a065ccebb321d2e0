"""The weeks ahead of each arm, now and after a push, with both kinds of practitioner.

The forecast needs numpy, which a server may lack; then there is none, and the page says so.
"""

from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple

from webapp.dosing.closing import close_day
from webapp.dosing.plan import Plan, start_state
from webapp.dosing.responses import ENOUGH, NONE, PART
from webapp.dosing.state import State
from webapp.practice.routine.weeks_plot import WeeksPlot, weeks_plots
from webapp.practice.standing import Standing
from webapp.sync.folding.arm_account import ArmAccount
from webapp.sync.folding.switch import switched

if TYPE_CHECKING:
    from webapp.forecast.ahead import Ahead, WeeksAhead
    from webapp.forecast.likeness import PastDay

WEEKS = 12
SEED = 1
SHARE_DONE = {NONE: 0.0, PART: 0.5, ENOUGH: 1.0}
NOT_TOLD = -1


class Follows(NamedTuple):
    """A version fitted to the client, and where an arm stands under it today."""

    plan: Plan
    state: State


class ArmPush(NamedTuple):
    """One arm: under the version in force (None before the first), under the draft, and its past."""

    arm: str
    now: Follows | None
    after: Follows
    account: ArmAccount | None


class ArmForecast(NamedTuple):
    """The forecast of one arm.

    Attributes:
        arm: The arm.
        weeks: The weeks looked ahead.
        days_known: The closed days that the virtual clients were chosen by.
        rows: By version (`now` is missing before the first, or where nothing changes) the forecast without a
            practitioner who acts, and with one.
        plots: The drawing, wide and narrow.
    """

    arm: str
    weeks: int
    days_known: int
    rows: dict[str, tuple["WeeksAhead", "WeeksAhead"]]
    plots: Sequence[WeeksPlot]


def courses_of(standings: Sequence[Standing], old: Plan | None, new: Plan) -> list[ArmPush]:
    """Return each arm of a client now and after a push.

    Args:
        standings: The arms that already follow a routine.
        old: The newest version, or None before the first.
        new: The draft.
    """
    stood = {stand.arm: stand for stand in standings}
    return [_course(arm, stood.get(arm), old, new) for arm in new.client.arms]


def _course(arm: str, stand: Standing | None, old: Plan | None, new: Plan) -> ArmPush:
    if stand:
        plan, state = stand.account.plan, _state_today(stand)
        return ArmPush(arm, Follows(plan, state), Follows(new, switched(plan, new, arm, state)), stand.account)
    now = Follows(old, start_state(old, arm)) if old and arm in old.client.arms else None
    return ArmPush(arm, now, Follows(new, start_state(new, arm)), None)


def _state_today(stand: Standing) -> State:
    """Return today's state; an arm that was stopped today counts as held."""
    state = stand.state
    return close_day(stand.account.plan, state, "sharp").state if stand.is_held_since_today else state


def forecasts(courses: Sequence[ArmPush]) -> list[ArmForecast] | None:
    """Forecast the weeks ahead of each arm, or return None where this server cannot."""
    try:
        return [_forecast(course) for course in courses]
    except ModuleNotFoundError as missing:
        if missing.name != "numpy":
            raise
        return None


def _forecast(course: ArmPush) -> ArmForecast:
    from webapp.forecast.ahead import Ahead  # noqa: PLC0415 - arrays are loaded only where they are needed

    past = _past(course.account) if course.account else ()
    question = Ahead((course.now or course.after).plan, past, WEEKS, SEED)
    rows = {"after": _both(question, course.after)}
    if course.now and course.now != course.after:
        rows["now"] = _both(question, course.now)
    plots = weeks_plots(rows["after"][0].work_j, rows["now"][0].work_j if "now" in rows else ())
    return ArmForecast(course.arm, WEEKS, len(past), rows, plots)


def _both(question: "Ahead", follows: Follows) -> tuple["WeeksAhead", "WeeksAhead"]:
    from webapp.forecast.ahead import Followed, weeks_ahead  # noqa: PLC0415 - as above

    without, acting = (weeks_ahead(question, Followed(*follows, acts)) for acts in (False, True))
    return without, acting


def _past(account: ArmAccount) -> tuple["PastDay", ...]:
    from webapp.forecast.likeness import PastDay  # noqa: PLC0415 - as above
    from webapp.forecast.prescribers import sore_work_j  # noqa: PLC0415 - as above

    return tuple(
        PastDay(
            sore_work_j(day.dose) * SHARE_DONE[day.facts.done],
            NOT_TOLD if day.facts.during is None else day.facts.during,
            NOT_TOLD if day.facts.morning is None else day.facts.morning,
        )
        for day in account.days
    )
