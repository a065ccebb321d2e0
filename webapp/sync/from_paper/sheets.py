"""What a printed sheet asks of each arm, as the arm stands now: its dose and rules, or why it asks nothing."""

from dataclasses import dataclass
from datetime import date

from webapp.dosing.course import is_sharp
from webapp.dosing.dose import Dose, dose
from webapp.dosing.mornings import PaperRules, paper_rules
from webapp.dosing.plan import Plan, start_state
from webapp.dosing.state import State
from webapp.events.course_set import SetCourse, course_on
from webapp.records import events
from webapp.records.database import Database
from webapp.records.routines import RoutineVersion
from webapp.sync.bundle.plans import plan_of
from webapp.sync.case.finishing import courses_of
from webapp.sync.folding.fold import ONE_DAY, Course, read_course

TRAINING = "training"


@dataclass(frozen=True)
class ArmOnPaper:
    """One arm on a sheet.

    Attributes:
        arm: The arm.
        asks: training; or why nothing is asked: held, resting (after a flare), rest (by hand, until a day) or ended.
        dose: What a day asks; empty unless training.
        rules: What mornings and sessions bring.
        course: The course in force on the sheet's first day.
    """

    arm: str
    asks: str
    dose: Dose
    rules: PaperRules
    course: SetCourse


def default_first(db: Database, client: int, today: date) -> date:
    """Return the day on which a sheet begins where nobody says otherwise: today, or tomorrow once today has a session."""
    course = read_course(db, client, events.of_client(db, client))
    known = [facts[today] for facts in course.diary.facts.values() if today in facts]
    return today + ONE_DAY if any(each.sessions for each in known) else today


def arms_on_paper(db: Database, client: int, version: RoutineVersion, today: date, first: date) -> list[ArmOnPaper]:
    """Return what a sheet of a routine version asks of each of its arms.

    Args:
        db: The records.
        client: The client's key.
        version: The version that the sheet shows; one that was not received yet counts as received today.
        today: The client's local day, at whose start the arms stand.
        first: The first day of the sheet.
    """
    course = read_course(db, client, events.of_client(db, client))
    plan, set_course = plan_of(version), course_on(courses_of(db, client), first)
    found = []
    for arm in version.settings["arms"]:
        state = _state(course, arm, plan, today, version.version)
        asks = _asks(course, arm, state, today, set_course)
        on_day = dose(plan, state) if asks == TRAINING else Dose(asks)
        found.append(ArmOnPaper(arm, asks, on_day, paper_rules(plan, state), set_course))
    return found


def _state(course: Course, arm: str, plan: Plan, today: date, version: int) -> State:
    _, progress = course.run(arm, None, course.first_day(today), today)
    begun = course.enter(arm, progress, today, newest=version)
    return begun.state if begun else start_state(plan, arm)


def _asks(course: Course, arm: str, state: State, today: date, set_course: SetCourse) -> str:
    """A hold or a rest stands above what the practice has set, as on the phone."""
    known = course.diary.of_arm(arm).get(today)
    if known and is_sharp(known):
        return "held"
    if state.mode != TRAINING:
        return state.mode
    return set_course.to if set_course.to in ("rest", "ended") else TRAINING
