"""The trial as a table: the rules with invented clients of many kinds, compared with a plan on paper."""

from collections.abc import Mapping, Sequence
from typing import Any

from webapp.dosing.plan import Plan
from webapp.rulebook.section import Section
from webapp.rulebook.wording import Wording
from webapp.words import populations as population_words
from webapp.words import rulebook as say

Row = Mapping[str, Any]
CLIENTS = 100
FLARES = ("ours.flare_days", "paper.flare_days", "acting.flare_days")
SHARES = ("ours.standing_still", "acting.standing_still")
DAYS = ("ours.goal_day",)
COLUMNS = (*FLARES[:2], *DAYS, *SHARES, FLARES[2])


def trial(plan: Plan, clients: int) -> tuple[Row, ...]:
    """Run every population of the forecast; return a row for each population and kind (see `forecast.trial.rows`)."""
    from webapp.forecast.question import Question  # noqa: PLC0415 - arrays are loaded for the trial only
    from webapp.forecast.trial.rows import try_all  # noqa: PLC0415 - as above

    rows, _ = try_all(plan, Question(clients=clients))
    return tuple(rows)


def _cell(wording: Wording, number: str, three: Sequence[Row]) -> str:
    values = [row[number] for row in three]
    if number in SHARES:
        return wording.say(say.PER_CENT, number=" / ".join(str(round(value * 100)) for value in values))
    if number in DAYS:
        return " / ".join(
            wording.say(population_words.NEVER) if value is None else str(round(value)) for value in values
        )
    return " / ".join(map(wording.decimal, values))


def populations(wording: Wording, trial: Sequence[Row]) -> Section:
    """Return the table of the populations: three numbers a cell, for the fragile, the middling and the robust."""
    threes: dict[str, list[Row]] = {}
    for row in trial:
        threes.setdefault(row["population"], []).append(row)
    rows = [
        (wording.say(population_words.POPULATIONS[population]), *(_cell(wording, number, three) for number in COLUMNS))
        for population, three in threes.items()
    ]
    notes = (*say.NOTES["populations"], population_words.THREES, population_words.FELT)
    head = (population_words.WHO, *(population_words.COLUMNS[number] for number in COLUMNS))
    return Section(
        "populations",
        wording.say(say.TITLES["populations"]),
        tuple(wording.say(note) for note in notes),
        tuple(wording.say(title) for title in head),
        tuple(rows),
    )
