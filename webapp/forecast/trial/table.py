"""The populations as a Markdown table, with the limits below it. Only the layout is here; the sentences are in words/."""

from collections.abc import Sequence
from typing import Any

from webapp.forecast.figures import KINDS
from webapp.forecast.table import flowed, head_lines
from webapp.words import Words
from webapp.words import populations as say
from webapp.words.forecast import decimal_text, share_text

SHARES = ("ours.standing_still", "acting.standing_still")
DAYS = ("ours.goal_day",)
TENTHS_FROM = 10


def _cell(words: Words, number: str, value: float | None) -> str:
    if value is None:
        return words.say(say.NEVER)
    if number in SHARES:
        return share_text(words, value)
    if number in DAYS:
        return decimal_text(words, value, 0)
    return decimal_text(words, value, 1 if value >= TENTHS_FROM else 2)


def _line(cells: Sequence[str]) -> str:
    return "| " + " | ".join(cells) + " |"


def _population_line(words: Words, rows: Sequence[dict[str, Any]]) -> str:
    cells = (" / ".join(_cell(words, number, row[number]) for row in rows) for number in say.COLUMNS)
    return _line([words.say(say.POPULATIONS[rows[0]["population"]]), *cells])


def _table(words: Words, rows: Sequence[dict[str, Any]]) -> list[str]:
    heads = [words.say(say.WHO), *(words.say(head) for head in say.COLUMNS.values())]
    each = [rows[first : first + len(KINDS)] for first in range(0, len(rows), len(KINDS))]
    return [_line(heads), _line(["---"] * len(heads)), *(_population_line(words, three) for three in each)]


def _limit_line(words: Words, check: dict[str, Any]) -> str:
    def pair(seed: dict[str, float]) -> str:
        figure, limit = (_cell(words, check["number"], seed[name]) for name in ("figure", "limit"))
        return words.say(say.PAIR, figure=figure, limit=limit)

    return words.say(
        say.HOLDS if check["holds"] else say.FAILS,
        population=words.say(say.POPULATIONS[check["population"]]),
        kind=words.say(say.KINDS[check["kind"]]),
        number=words.say(say.COLUMNS[check["number"]]),
        pairs=", ".join(pair(each) for each in check["by_seed"]),
    )


def trial_text(words: Words, answer: dict[str, Any]) -> str:
    """Return a trial (see `report.trial`) as text."""
    lines = [*head_lines(words, answer, say.HEAD, say.GOAL), flowed(words.say(say.THREES)), flowed(words.say(say.FELT))]
    lines += [flowed(words.say(say.STILL)), "", *_table(words, answer["rows"]), "", flowed(words.say(say.LIMITS))]
    return "\n".join([*lines, *("- " + _limit_line(words, check) for check in answer["limits"])])
