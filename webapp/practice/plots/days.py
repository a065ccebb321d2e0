"""One arm, day by day, as the plots show it: what was told, what was asked, what marks the day."""

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from webapp.dosing.course import NOTHING
from webapp.dosing.dose import Dose, dose, range_of
from webapp.dosing.state import State
from webapp.records.routines import RoutineVersion
from webapp.sync.folding.arm_account import ArmAccount

ONE_DAY = timedelta(days=1)


@dataclass(frozen=True)
class PlotDay:
    """One day of one arm.

    Attributes:
        on: The date.
        morning: Pain on the morning of this day, 0-10, or None.
        worst: The worst pain in a session of this day, 0-10, or None.
        is_sharp: Whether sharp pain or a warning sign was told of this day.
        mode: training, resting or held; "" on a day before the routine.
        rung: The rung that the day stood on; 0 before the routine.
        share: The share of the full range, 0 to 1.
        load_kg: The weight that the day asked, or None where it asked nothing.
        work_j: The work that the day asked, joules.
        usual: The usual morning pain of the routine version in force, or None before the first version.
        version: The version in force; 0 before the first.
        has_sport: Whether the client marked sport.
        is_away: Whether the client told of days without the app.
    """

    on: date
    morning: int | None = None
    worst: int | None = None
    is_sharp: bool = False
    mode: str = ""
    rung: int = 0
    share: float = 0.0
    load_kg: float | None = None
    work_j: float = 0.0
    usual: int | None = None
    version: int = 0
    has_sport: bool = False
    is_away: bool = False


@dataclass(frozen=True)
class Marks:
    """What marks a client's days beside pain and dose: days with sport, days without the app."""

    sport: Collection[date] = frozenset()
    away: Collection[date] = frozenset()


def plot_days(
    account: ArmAccount, versions: Iterable[RoutineVersion], first: date, today: date, marks: Marks
) -> list[PlotDay]:
    """Return the days of one arm from `first` to `today`, both included.

    Args:
        account: The arm's account up to `today`.
        versions: The client's routine versions, in any order.
        first: The first day to show.
        today: The client's own day.
        marks: What marks the days.
    """
    received = sorted(
        (date.fromisoformat(each.received_on), each.version, int(each.settings["usual"]))
        for each in versions
        if each.received_on
    )
    doses = {day.on: (day.state_before, day.dose) for day in account.days if day.on >= first}
    doses[today] = account.state, dose(account.plan, account.state)
    days = (first + number * ONE_DAY for number in range((today - first).days + 1))
    return [_day(account, on, doses.get(on), received, marks) for on in days]


def _day(
    account: ArmAccount,
    on: date,
    standing: tuple[State, Dose] | None,
    received: Sequence[tuple[date, int, int]],
    marks: Marks,
) -> PlotDay:
    known, eve = account.facts.get(on, NOTHING), account.facts.get(on - ONE_DAY, NOTHING)
    in_force = max(((version, usual) for since, version, usual in received if since <= on), default=(0, None))
    day = PlotDay(
        on,
        eve.morning,
        known.during,
        known.sharp,
        version=in_force[0],
        usual=in_force[1],
        has_sport=on in marks.sport,
        is_away=on in marks.away,
    )
    return _asking(day, *standing) if standing else day


def _asking(day: PlotDay, state: State, dose_of_day: Dose) -> PlotDay:
    load = dose_of_day.sets[0].load_kg if dose_of_day.sets else None
    fields = {**vars(day), "mode": state.mode, "rung": state.rung, "share": range_of(state.ease)}
    return PlotDay(**{**fields, "load_kg": load, "work_j": dose_of_day.work_j})
