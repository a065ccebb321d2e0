"""The core on files: a routine, a client and a diary from paper, closed up to a day.

Knows no database: only files, the core and the library.
"""

from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass
from datetime import date
from pathlib import Path
from typing import Any, TypeVar

from webapp.dosing.course import ClosedDay, follow
from webapp.dosing.cue_sheet import seconds_of, write
from webapp.dosing.dose import Dose, dose
from webapp.dosing.plan import Plan, faults_of_plan, make_plan, start_state
from webapp.dosing.responses import SHOWN
from webapp.dosing.settings import ARMS, Client, Routine
from webapp.dosing.state import State
from webapp.library.client import ClientFile, load_client_file
from webapp.library.diary import DAYS, PaperDiary, day_of, load_diary
from webapp.library.faults import FileFault, NotAcceptedError
from webapp.library.routine import load_routine

FIRST_DAY = ("start",)
Read = TypeVar("Read")


@dataclass(frozen=True)
class ArmDay:
    """One arm on the day asked for.

    Attributes:
        response_yesterday: How the day before was classed, or None where none was closed.
        state: At the start of the day.
        dose: What the day asks.
        reasons: The rules that made it so.
    """

    response_yesterday: str | None
    state: State
    dose: Dose
    reasons: tuple[str, ...]


@dataclass(frozen=True)
class PaperDay:
    """The day asked for: the plan, the weights as entered, and each arm."""

    on: date
    plan: Plan
    weights: tuple[Mapping[str, Any], ...]
    arms: Mapping[str, ArmDay]

    def minutes(self, arm: str) -> int:
        """Give the whole minutes of one session of an arm, 0 where there is none."""
        seconds = seconds_of(write(self.plan, self.arms[arm].dose))
        return max(1, round(seconds / 60)) if seconds else 0


@dataclass(frozen=True)
class Paper:
    """What the files say, free of faults.

    Attributes:
        on: The day asked for; the days before it are closed.
        plan: The routine fitted to the client.
        weights: As entered.
        diary: Facts and releases by arm and day.
    """

    on: date
    plan: Plan
    weights: tuple[Mapping[str, Any], ...]
    diary: PaperDiary

    def closed(self, arm: str) -> list[ClosedDay]:
        """Close an arm's days from its first row up to, and not with, `on`."""
        facts, releases = self.diary.facts.get(arm, {}), self.diary.releases.get(arm, {})
        first = min(facts, default=self.on)
        start = start_state(self.plan, arm)
        return follow(self.plan, start, first, facts, self.on, releases, counts_days_held=True)


def _arm_day(paper: Paper, arm: str) -> ArmDay:
    accounts = paper.closed(arm)
    if not accounts:
        state = start_state(paper.plan, arm)
        return ArmDay(None, state, dose(paper.plan, state), FIRST_DAY)
    last = accounts[-1]
    return ArmDay(last.response, last.state_after, dose(paper.plan, last.state_after), last.reasons)


class _Gathering:
    """Reads file after file, keeping the faults of all of them."""

    def __init__(self) -> None:
        self.faults: list[FileFault] = []

    def read(self, load: Callable[[], Read]) -> Read | None:
        try:
            return load()
        except NotAcceptedError as error:
            self.faults += error.faults
            return None

    def day(self, text: str) -> date:
        on = day_of(text)
        if on is None:
            self.faults.append(FileFault("", None, "--on", text, "not_a_day", DAYS))
        return on or date.min


@dataclass(frozen=True)
class FittedFile:
    """A routine fitted to a client, and the weights as entered."""

    plan: Plan
    weights: tuple[Mapping[str, Any], ...]


def read_fitted(routine_path: Path, client_path: Path) -> FittedFile:
    """Read a routine and a client; a NotAcceptedError holds every fault of both files."""
    gathering = _Gathering()
    routine = gathering.read(lambda: load_routine(routine_path))
    told = gathering.read(lambda: load_client_file(client_path))
    if gathering.faults or routine is None or told is None:
        raise NotAcceptedError(gathering.faults)
    return FittedFile(_fitted(routine, told.client, client_path), told.weights)


def _fitted(routine: Routine, client: Client, client_path: Path) -> Plan:
    """Fit a routine to a client; a NotAcceptedError where the two do not go together."""
    plan = make_plan(routine, client)
    faults = [
        FileFault(str(client_path), None, each.field, each.value, each.code, each.rule) for each in faults_of_plan(plan)
    ]
    if faults:
        raise NotAcceptedError(faults)
    return plan


def _arms_of(told: ClientFile | None) -> tuple[str, ...]:
    return told.client.arms if told else ARMS


def read_paper(routine_path: Path, client_path: Path, diary_path: Path, on: str) -> Paper:
    """Read a routine, a client and a diary.

    Args:
        routine_path: TOML, see `library.routine`.
        client_path: TOML, see `library.client`.
        diary_path: CSV, see `library.diary`.
        on: The day whose dose is wanted, YYYY-MM-DD; without earlier rows it is the first.

    Raises:
        NotAcceptedError: With every fault of all three files and of `on`.
    """
    gathering = _Gathering()
    day = gathering.day(on)
    routine = gathering.read(lambda: load_routine(routine_path))
    told = gathering.read(lambda: load_client_file(client_path))
    diary: PaperDiary | None = gathering.read(lambda: load_diary(diary_path, _arms_of(told)))
    if gathering.faults or routine is None or told is None or diary is None:
        raise NotAcceptedError(gathering.faults)
    return Paper(day, _fitted(routine, told.client, client_path), told.weights, diary)


def day_of_paper(paper: Paper) -> PaperDay:
    """Give the day asked for, arm by arm."""
    arms = {arm: _arm_day(paper, arm) for arm in paper.plan.client.arms}
    return PaperDay(paper.on, paper.plan, paper.weights, arms)


def dose_object(asked: Dose) -> dict[str, Any]:
    """Give a dose as plain JSON values, work in joules to two decimals."""
    sets = [
        {**asdict(one), "load_kg": round(float(one.load_kg), 4), "work_j": round(one.work_j, 2)} for one in asked.sets
    ]
    return {
        "sessions": asked.sessions,
        "sets": sets,
        "warm_ups": [asdict(one) for one in asked.warm_ups],
        "holds": [asdict(one) for one in asked.holds],
        "work_j": round(asked.work_j, 2),
    }


def day_object(day: PaperDay) -> dict[str, Any]:
    """Give a day as plain JSON values, work in joules to two decimals."""
    arms = {
        arm: {
            "response_yesterday": SHOWN[told.response_yesterday] if told.response_yesterday else None,
            "state": told.state._asdict(),
            "dose": dose_object(told.dose),
            "reasons": list(told.reasons),
        }
        for arm, told in day.arms.items()
    }
    return {"on": day.on.isoformat(), "arms": arms}
