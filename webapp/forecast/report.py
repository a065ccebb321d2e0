"""The answers of this room as plain objects, ready for JSON: each says what it is and what it stands on."""

from collections.abc import Callable
from typing import Any, NamedTuple

from webapp.dosing.plan import Plan
from webapp.forecast.bands import bands
from webapp.forecast.compare import OURS, better_than_ours, compare
from webapp.forecast.course import Tick, run
from webapp.forecast.figures import every_figure
from webapp.forecast.fixed_plans import FIXED_PLANS
from webapp.forecast.measures import CLOSE
from webapp.forecast.prescribers import OurRules, Tables
from webapp.forecast.question import Question, lift_j
from webapp.forecast.responders import draw
from webapp.forecast.trial import rows
from webapp.forecast.trial.statements import checked
from webapp.words import Words
from webapp.words.forecast import HARDIER, MODEL, PLANS_TOLD, SIMULATION

DICE = "PCG64"


def _head(words: Words, asked: Question, plan: Plan) -> dict[str, Any]:
    body, top = plan.client.body, plan.ladder.rungs[-1]
    within = top.count.reps * lift_j(body, top.load_kg) >= asked.goal.work_j(body) - CLOSE
    return {
        "says": words.say(SIMULATION),
        "model": words.say(MODEL),
        "weeks": asked.weeks,
        "clients": asked.clients,
        "seed": asked.seed,
        "dice": DICE,
        "goal": {**asked.goal._asdict(), "within_ladder": within},
        "figures": {name: figure._asdict() for name, figure in every_figure().items()},
    }


def forecast(plan: Plan, asked: Question, words: Words, tick: Tick = lambda: None) -> dict[str, Any]:
    """Look one plan's weeks ahead.

    Args:
        plan: A routine fitted to a client, both free of faults.
        asked: How far, how many, which dice.
        words: The language of what it says.
        tick: Called once a day.

    Returns:
        `says` (that it is a simulation), `model`, the question itself (its `goal` with whether the ladder comes so
        far), `figures` (every constant with unit and
        source key) and `kinds` (see `bands.bands`).
    """
    tables = Tables(plan)
    cohort = draw(plan.client, asked.clients, asked.days, asked.seed)
    course = run(OurRules(tables, cohort.count), cohort, plan, tick)
    return _head(words, asked, plan) | {"kinds": bands(tables, course, asked.goal, asked.seed)}


def comparison(plan: Plan, asked: Question, words: Words, tick: Tick = lambda: None) -> dict[str, Any]:
    """Put one plan beside the plans on paper; the arguments are `forecast`'s.

    Returns:
        As `forecast`, with `plans` (see `compare.compare`), `plans_told`, `hardier` and `better_than_ours` in place
        of `kinds`.
    """
    tables, cohort = Tables(plan), draw(plan.client, asked.clients, asked.days, asked.seed)
    compared = compare(tables, cohort, asked.goal, asked.seed, FIXED_PLANS, tick)
    names = (OURS, *(fixed.id for fixed in FIXED_PLANS))
    told = {"hardier": words.say(HARDIER), "plans_told": {name: words.say(PLANS_TOLD[name]) for name in names}}
    return _head(words, asked, plan) | told | {"plans": compared, "better_than_ours": better_than_ours(compared)}


def trial(plan: Plan, asked: Question, words: Words, tick: Tick = lambda: None) -> dict[str, Any]:
    """Run all populations; the arguments are `forecast`'s, and the seed is the first of several.

    Returns:
        As `forecast`, with `seeds`, `rows` (see `trial.rows.try_all`) and `limits` (see `trial.statements.checked`) in
        place of `kinds`.
    """
    pooled, apart = rows.try_all(plan, asked, tick)
    return _head(words, asked, plan) | {"seeds": rows.seeds_of(asked), "rows": pooled, "limits": checked(apart)}


class ReportKind(NamedTuple):
    """One kind of answer: how it is worked out, and how many ticks it takes."""

    work_out: Callable[[Plan, Question, Words, Tick], dict[str, Any]]
    ticks: Callable[[Question], int]


FORECAST = ReportKind(forecast, lambda asked: asked.days)
COMPARISON = ReportKind(comparison, lambda asked: asked.days * (1 + len(FIXED_PLANS)))
TRIAL = ReportKind(trial, rows.ticks)
