"""The core on files: reads a routine, a client and a diary from paper, and closes the days up to a given day.

Knows files, the core and the library, but no database.
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
    """One arm on the day of the answer.

    Attributes:
        response_yesterday: The response to the day before, or None if no day was closed.
        state: The state at the start of the day.
        dose: The dose of the day.
        reasons: The ids of the rules that led to the state.
    """

    response_yesterday: str | None
    state: State
    dose: Dose
    reasons: tuple[str, ...]


@dataclass(frozen=True)
class PaperDay:
    """The day of the answer: the plan, the weights as entered, and each arm."""

    on: date
    plan: Plan
    weights: tuple[Mapping[str, Any], ...]
    arms: Mapping[str, ArmDay]

    def minutes(self, arm: str) -> int:
        """Return the length of one session of an arm in whole minutes, 0 without a session."""
        seconds = seconds_of(write(self.plan, self.arms[arm].dose))
        return max(1, round(seconds / 60)) if seconds else 0


@dataclass(frozen=True)
class Paper:
    """The contents of the files, without faults.

    Attributes:
        on: The day of the answer; the days before it are closed.
        plan: The routine fitted to the client.
        weights: The weights as entered.
        diary: Facts and releases by arm and day.
    """

    on: date
    plan: Plan
    weights: tuple[Mapping[str, Any], ...]
    diary: PaperDiary

    def closed(self, arm: str) -> list[ClosedDay]:
        """Return an arm's closed days, from its first row up to the day before `on`."""
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
    """Reads several files, and collects the faults of all."""

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
    """Read a routine and a client. If they have faults, a NotAcceptedError holds all faults of both files."""
    gathering = _Gathering()
    routine = gathering.read(lambda: load_routine(routine_path))
    client_file = gathering.read(lambda: load_client_file(client_path))
    if gathering.faults or routine is None or client_file is None:
        raise NotAcceptedError(gathering.faults)
    return FittedFile(_fitted(routine, client_file.client, client_path), client_file.weights)


def _fitted(routine: Routine, client: Client, client_path: Path) -> Plan:
    """Fit a routine to a client; a NotAcceptedError if the two do not fit together."""
    plan = make_plan(routine, client)
    faults = [
        FileFault(str(client_path), None, each.field, each.value, each.code, each.rule) for each in faults_of_plan(plan)
    ]
    if faults:
        raise NotAcceptedError(faults)
    return plan


def _arms_of(client_file: ClientFile | None) -> tuple[str, ...]:
    return client_file.client.arms if client_file else ARMS


def read_paper(routine_path: Path, client_path: Path, diary_path: Path, on: str) -> Paper:
    """Read a routine, a client and a diary.

    Args:
        routine_path: A TOML file, see `library.routine`.
        client_path: A TOML file, see `library.client`.
        diary_path: A CSV file, see `library.diary`.
        on: The day of the answer, YYYY-MM-DD; if the diary has no earlier rows, it is the first day.

    Raises:
        NotAcceptedError: It holds all faults of the three files and of `on`.
    """
    gathering = _Gathering()
    day = gathering.day(on)
    routine = gathering.read(lambda: load_routine(routine_path))
    client_file = gathering.read(lambda: load_client_file(client_path))
    diary: PaperDiary | None = gathering.read(lambda: load_diary(diary_path, _arms_of(client_file)))
    if gathering.faults or routine is None or client_file is None or diary is None:
        raise NotAcceptedError(gathering.faults)
    return Paper(day, _fitted(routine, client_file.client, client_path), client_file.weights, diary)


def day_of_paper(paper: Paper) -> PaperDay:
    """Return the day of the answer, with each arm."""
    arms = {arm: _arm_day(paper, arm) for arm in paper.plan.client.arms}
    return PaperDay(paper.on, paper.plan, paper.weights, arms)


def dose_object(dose: Dose) -> dict[str, Any]:
    """Return a dose as plain JSON values, with work in joules to two decimals."""
    sets = [
        {**asdict(dose_set), "load_kg": round(float(dose_set.load_kg), 4), "work_j": round(dose_set.work_j, 2)}
        for dose_set in dose.sets
    ]
    return {
        "sessions": dose.sessions,
        "sets": sets,
        "warm_ups": [asdict(warm_up) for warm_up in dose.warm_ups],
        "holds": [asdict(hold) for hold in dose.holds],
        "work_j": round(dose.work_j, 2),
    }


def day_object(day: PaperDay) -> dict[str, Any]:
    """Return a day as plain JSON values, with work in joules to two decimals."""
    arms = {
        arm: {
            "response_yesterday": SHOWN[arm_day.response_yesterday] if arm_day.response_yesterday else None,
            "state": arm_day.state._asdict(),
            "dose": dose_object(arm_day.dose),
            "reasons": list(arm_day.reasons),
        }
        for arm, arm_day in day.arms.items()
    }
    return {"on": day.on.isoformat(), "arms": arms}
