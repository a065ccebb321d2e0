"""All goes of the return ladders as one closed table, so that a phone looks a day up and needs no rules.

A row is a go, whatever the ladder and the step. A column is a letter: what sport there was, how it felt, whether a flare still counts. The
three counts beside the go (step, days with sport lately, days away) are kept by whoever reads the table; what they allow is in it too.
"""

from functools import lru_cache
from itertools import product
from typing import NamedTuple

from webapp.dosing.returning import rules
from webapp.dosing.returning.closing import away_from, close_go
from webapp.dosing.returning.go import LATELY_DAYS, MOST_A_WEEK, Go, ReturnLadder, is_free, passes

AGAIN = ".again"
Letters = tuple[tuple[str, str, bool], ...]
LETTERS: Letters = tuple(product(rules.OUTINGS, rules.FEELS, (False, True)))


class GoTable(NamedTuple):
    """The closed table.

    Attributes:
        rows: Every go that can be reached; row 0 is where a ladder begins.
        column_of: The column of each letter; letters that do the same in every row share one.
        next: By column, then by row, the row that follows.
        why: By column, then by row, the rule, as an index into `rules.RETURN_RULES`; it alone says what becomes of the step.
        away: By the days of each absence, the row that follows it, by row.
        passed: By the sport days that a step asks for, whether each row has passed it.
        free: By the same, whether each set of days with sport among the last six leaves room for sport today.
    """

    rows: tuple[Go, ...]
    column_of: dict[str, int]
    next: tuple[tuple[int, ...], ...]
    why: tuple[tuple[int, ...], ...]
    away: dict[int, tuple[int, ...]]
    passed: dict[int, tuple[bool, ...]]
    free: dict[int, tuple[bool, ...]]


def letter(outing: str, feel: str, *, is_again: bool) -> str:
    """Return the name of a letter."""
    return f"{outing}.{feel}{AGAIN if is_again else ''}"


def _followers(go: Go) -> list[Go]:
    closed = [close_go(go, outing, feel, is_again=again).go for outing, feel, again in LETTERS]
    return [*closed, *(_away(go, absence) for absence in rules.ABSENCES)]


def _away(go: Go, absence: rules.Absence) -> Go:
    is_over = close_go(go, rules.NO_SPORT, "calm", is_again=False).rule == "return-over"
    return go if is_over else away_from(go, absence)


def _reached() -> tuple[Go, ...]:
    rows = {Go(): 0}
    waiting = [Go()]
    while waiting:
        for go in _followers(waiting.pop()):
            if go not in rows:
                rows[go] = len(rows)
                waiting.append(go)
    return tuple(rows)


@lru_cache(1)
def go_table() -> GoTable:
    """Build the table."""
    rows = _reached()
    at, rule_at = (
        {go: row for row, go in enumerate(rows)},
        {r.id: number for number, r in enumerate(rules.RETURN_RULES)},
    )
    columns: dict[tuple[tuple[int, int], ...], int] = {}
    column_of = {}
    for outing, feel, again in LETTERS:
        closed = [close_go(go, outing, feel, is_again=again) for go in rows]
        column = tuple((at[each.go], rule_at[each.rule]) for each in closed)
        column_of[letter(outing, feel, is_again=again)] = columns.setdefault(column, len(columns))
    follows, why = (tuple(tuple(cell[part] for cell in column) for column in columns) for part in range(2))
    away = {each.days: tuple(at[_away(go, each)] for go in rows) for each in rules.ABSENCES}
    day_counts = range(1, MOST_A_WEEK + 1)
    passed = {days: tuple(passes(go, days) for go in rows) for days in day_counts}
    free = {days: tuple(is_free(days, lately) for lately in range(1 << LATELY_DAYS)) for days in day_counts}
    return GoTable(rows, column_of, follows, why, away, passed, free)


def steps_after(ladder: ReturnLadder) -> tuple[tuple[int, ...], ...]:
    """Return, by move of `rules.MOVES` and by step, the step that follows."""
    return tuple(tuple(move(step) for step in range(1, len(ladder.steps) + 1)) for move in rules.MOVES.values())
