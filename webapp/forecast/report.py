"""The answers of this room as plain objects for JSON. Each says that it is a simulation, and names its constants."""

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


def _head(words: Words, question: Question, plan: Plan) -> dict[str, Any]:
    body, top = plan.client.body, plan.ladder.rungs[-1]
    within = top.count.reps * lift_j(body, top.load_kg) >= question.goal.work_j(body) - CLOSE
    return {
        "says": words.say(SIMULATION),
        "model": words.say(MODEL),
        "weeks": question.weeks,
        "clients": question.clients,
        "seed": question.seed,
        "dice": DICE,
        "goal": {**question.goal._asdict(), "within_ladder": within},
        "figures": {name: figure._asdict() for name, figure in every_figure().items()},
    }


def forecast(plan: Plan, question: Question, words: Words, tick: Tick = lambda: None) -> dict[str, Any]:
    """Run virtual clients under one plan.

    Args:
        plan: A routine fitted to a client, both free of faults.
        question: Weeks, clients, seed and goal.
        words: The language of the sentences.
        tick: Called once a day.

    Returns:
        `says` (that it is a simulation), `model`, the question (its `goal` says whether the ladder reaches it),
        `figures` (every constant with unit and source key) and `kinds` (see `bands.bands`).
    """
    tables = Tables(plan)
    cohort = draw(plan.client, question.clients, question.days, question.seed)
    course = run(OurRules(tables, cohort.count), cohort, plan, tick)
    return _head(words, question, plan) | {"kinds": bands(tables, course, question.goal, question.seed)}


def comparison(plan: Plan, question: Question, words: Words, tick: Tick = lambda: None) -> dict[str, Any]:
    """Compare one plan with the plans on paper; the arguments are those of `forecast`.

    Returns:
        As `forecast`, but instead of `kinds`: `plans` (see `compare.compare`), `plans_told` (a sentence for each plan),
        `hardier` and `better_than_ours`.
    """
    tables, cohort = Tables(plan), draw(plan.client, question.clients, question.days, question.seed)
    compared = compare(tables, cohort, question.goal, question.seed, FIXED_PLANS, tick)
    names = (OURS, *(fixed.id for fixed in FIXED_PLANS))
    texts = {"hardier": words.say(HARDIER), "plans_told": {name: words.say(PLANS_TOLD[name]) for name in names}}
    return _head(words, question, plan) | texts | {"plans": compared, "better_than_ours": better_than_ours(compared)}


def trial(plan: Plan, question: Question, words: Words, tick: Tick = lambda: None) -> dict[str, Any]:
    """Run all populations; the arguments are those of `forecast`, and the seed is the first of several.

    Returns:
        As `forecast`, but instead of `kinds`: `seeds`, `rows` (see `trial.rows.try_all`) and `limits` (see
        `trial.statements.checked`).
    """
    pooled, apart = rows.try_all(plan, question, tick)
    return _head(words, question, plan) | {"seeds": rows.seeds_of(question), "rows": pooled, "limits": checked(apart)}


class ReportKind(NamedTuple):
    """One kind of answer: the function that works it out, and the number of ticks."""

    work_out: Callable[[Plan, Question, Words, Tick], dict[str, Any]]
    ticks: Callable[[Question], int]


FORECAST = ReportKind(forecast, lambda question: question.days)
COMPARISON = ReportKind(comparison, lambda question: question.days * (1 + len(FIXED_PLANS)))
TRIAL = ReportKind(trial, rows.ticks)
