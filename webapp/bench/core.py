"""What the dosing core and the forecast cost: single days, whole logs, the almanac, virtual clients."""

import gzip
from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from typing import Any

import msgspec

from webapp.bench.clock import ROUNDS, measured
from webapp.bench.example import FIRST_ON, POUNDS, example_plan, log
from webapp.dosing.almanac import build
from webapp.dosing.closing import close_day
from webapp.dosing.course import ClosedDay, follow
from webapp.dosing.dose import dose
from webapp.dosing.plan import Plan, start_state
from webapp.dosing.responses import RESPONSES
from webapp.forecast.question import Question
from webapp.forecast.report import forecast
from webapp.library.shelf import the_shelf
from webapp.sync.bundle.bundle_parts import BundleParts
from webapp.sync.log.facts import facts_by_arm
from webapp.words import Words
from webapp.words import bench as say
from webapp.words.paper import closed_day_lines

LOG_DAYS, YEAR_DAYS, FORECAST_WEEKS, FORECAST_CLIENTS = 400, 365, 12, 500
TIMES = (1, 10, 100)
# Settled, tender, flared in turn; a rest goes by on its own.
TURN = tuple(RESPONSES.index(word) for word in ("settled", "settled", "settled", "tender", "flared", "settled"))


def _closes(plan: Plan, count: int) -> Callable[[], object]:
    def close() -> None:
        state = start_state(plan)
        for number in range(count):
            state = close_day(plan, state, RESPONSES[TURN[number % len(TURN)]]).state
            dose(plan, state)

    return close


def _fold(plan: Plan, days: int) -> Callable[[], list[ClosedDay]]:
    """Return a function that folds a decoded log of events into closed days."""
    events, until = log(days), FIRST_ON + timedelta(days=days)
    return lambda: follow(plan, start_state(plan), FIRST_ON, facts_by_arm(events)["right"], until)


def _explain(plan: Plan, words: Words, days: int) -> Callable[[], object]:
    fold = _fold(plan, days)
    return lambda: closed_day_lines(words, "right", fold(), plan)


def _almanac(plan: Plan, words: Words, rounds: int) -> dict[str, Any]:
    almanac = build(plan)
    rows = BundleParts(plan, (), words, the_shelf()).almanac(almanac)
    packed = gzip.compress(msgspec.json.encode(rows), 9, mtime=0)
    size = {
        "weights": len(POUNDS),
        "states": len(almanac.rows),
        "rows": len(almanac.states),
        "gzipped_bytes": len(packed),
    }
    # Each round gets a copy of the plan, so that no value cached on an earlier plan makes it faster.
    return size | measured(
        lambda: build(replace(plan)), len(almanac.rows) * len(RESPONSES), words.say(say.CLOSED_DAY), rounds
    )


def _look_ahead(plan: Plan, words: Words, clients: int, rounds: int) -> dict[str, Any]:
    """Time a forecast with `clients` virtual clients in all, a third of each kind."""
    question = Question(FORECAST_WEEKS, -(-clients // 3))
    count = 3 * question.clients * question.days
    return measured(lambda: forecast(plan, question, words), count, words.say(say.CLIENT_DAY), rounds)


def _growth(plan: Plan, words: Words, rounds: int) -> dict[str, list[dict[str, Any]]]:
    """Time 1, 10 and 100 times the same work: the time for each item must not grow."""
    day = words.say(say.DAY)
    return {
        "close_and_dose": [measured(_closes(plan, 100 * times), 100 * times, day, rounds) for times in TIMES],
        "fold": [measured(_fold(plan, 40 * times), 40 * times, day, rounds) for times in TIMES],
        "explain": [measured(_explain(plan, words, 10 * times), 10 * times, day, rounds) for times in TIMES],
        "forecast": [_look_ahead(plan, words, 30 * times, rounds) for times in TIMES],
    }


def bench_core(words: Words, rounds: int = ROUNDS) -> dict[str, Any]:
    """Measure everything; return milliseconds of processor time, each with its floor."""
    plan, day = example_plan(), words.say(say.DAY)
    return {
        "floor": words.say(say.FLOOR),
        "noise": words.say(say.NOISE),
        "close_and_dose": measured(_closes(plan, 2000), 2000, day, rounds),
        "fold_of_400_days": measured(_fold(plan, LOG_DAYS), LOG_DAYS, day, rounds),
        "almanac": _almanac(plan, words, rounds),
        "forecast_500_by_84": _look_ahead(plan, words, FORECAST_CLIENTS, rounds),
        "forecast_3_times_500_by_84": _look_ahead(plan, words, 3 * FORECAST_CLIENTS, rounds),
        "explain_a_year": measured(_explain(plan, words, YEAR_DAYS), YEAR_DAYS, day, rounds),
        "growth": _growth(plan, words, rounds),
    }
