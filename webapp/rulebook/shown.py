"""What the rules do with the example: its ladder, a calm first fortnight, days away, coming back after a hold."""

from collections.abc import Iterator

from webapp.dosing import figures
from webapp.dosing.closing import close_day
from webapp.dosing.dose import Dose, dose
from webapp.dosing.ladder import Rung
from webapp.dosing.plan import MOST_USUAL_FOR_A_STEP_UP, STEPS_UP, Plan, start_state
from webapp.dosing.release import offer
from webapp.dosing.settings import DIRECTION_OF, SIDE_DIRECTIONS
from webapp.dosing.state import MOST_EASE, State
from webapp.rulebook.example import example_weights, settled_course
from webapp.rulebook.section import Section
from webapp.rulebook.wording import Wording
from webapp.words import load_text
from webapp.words import rulebook as say

FORTNIGHT = 14
AWAY = (3, 7, 14, 28)


def example_told(wording: Wording, plan: Plan) -> str:
    """Return the sentence that describes the example."""
    weights = wording.words.listed([_load(wording, kg) for kg in plan.client.weights_kg])
    body = plan.client.body
    mass, height = wording.number(body.mass_kg), wording.number(body.height_m)
    return wording.say(say.EXAMPLE, mass=mass, height=height, weights=weights, usual=plan.client.usual)


def _load(wording: Wording, load_kg: float) -> str:
    return load_text(wording.words, load_kg, example_weights())


def ladder(wording: Wording, plan: Plan) -> Section:
    """Return the example's rungs, each with the day on which it begins when every day is settled."""
    first: dict[int, int] = {}
    for day, state in enumerate(settled_course(plan, start_state(plan)), start=1):
        first.setdefault(state.rung, day)

    def row(rung: Rung) -> tuple[str, ...]:
        rise = wording.say(say.NOTHING) if rung.rise is None else wording.share(rung.rise)
        count, day = rung.count, wording.number_or_nothing(first.get(rung.number, 0))
        reps = (str(rung.number), _load(wording, rung.load_kg), str(count.reps), str(count.side_reps))
        return (*reps, wording.decimal(rung.work_j), rise, wording.share(rung.share), day)

    return wording.section("ladder", map(row, plan.ladder.rungs), most=MOST_USUAL_FOR_A_STEP_UP, up=STEPS_UP)


def _reps(day: Dose) -> tuple[int, int]:
    """Return the reps of one session: palm down and palm up, and to either side."""
    side = [each.reps for each in day.sets if DIRECTION_OF[each.movement] in SIDE_DIRECTIONS]
    palm = [each.reps for each in day.sets if DIRECTION_OF[each.movement] not in SIDE_DIRECTIONS]
    return palm[0], side[0]


def fortnight(wording: Wording, plan: Plan) -> Section:
    """Return what each of the first fourteen days asks when every day is settled."""
    rows = []
    for day, state in enumerate(settled_course(plan, start_state(plan))[:FORTNIGHT], start=1):
        days_dose = dose(plan, state)
        counts = (str(day), str(days_dose.sessions), *map(str, _reps(days_dose)))
        load, work = _load(wording, days_dose.sets[0].load_kg), wording.decimal(days_dose.work_j)
        rows.append((*counts, load, work, str(days_dose.holds[0].seconds)))
    return wording.section("fortnight", rows)


def _after_away(plan: Plan, rung: int, days: int) -> int:
    state = State(rung)
    for _ in range(days):
        state = close_day(plan, state, "missed").state
    return state.rung


def away(wording: Wording, plan: Plan) -> Section:
    """Return, for each rung, the rung on which an arm goes on after some days without a session."""
    rungs = range(1, plan.ladder.top + 1)
    return wording.section(
        "away", ([str(rung), *(str(_after_away(plan, rung, days)) for days in AWAY)] for rung in rungs)
    )


def release(wording: Wording, plan: Plan) -> Section:
    """Return the offer of a release, by the rung and range of the stop."""

    def cells(rung: int) -> Iterator[str]:
        for ease in range(MOST_EASE + 1):
            back = offer(plan, State(rung, ease, mode="held"))
            yield wording.say(say.LEVER, rung=back.rung, range=wording.range(back.ease))

    rows = ([str(rung), *cells(rung)] for rung in range(1, plan.ladder.top + 1))
    return wording.section("release", rows, days=wording.number(figures.OWED_DAYS.value))
