"""The table of the ways back, and their ladders in words, as plain JSON values of a bundle."""

from collections.abc import Sequence
from itertools import pairwise

from webapp.dosing.returning import rules
from webapp.dosing.returning.go import APART_DAYS, FLARE_DAYS, STEP_DAYS
from webapp.dosing.returning.table import go_table, steps_after
from webapp.library.ladders import LadderPage, the_ladders
from webapp.wire import way as wire
from webapp.words import Words
from webapp.words.returning import RETURN_REASONS


def _steps(column: Sequence[int]) -> list[int]:
    return [here - before for before, here in pairwise((0, *column))]


def _bits(truths: Sequence[bool]) -> str:
    return "".join("01"[each] for each in truths)


def way_table(words: Words) -> wire.Way:
    """Return the closed table of the ways back in one language."""
    table, moves = go_table(), list(rules.MOVES)
    away = [
        wire.WayAway(days=each.days, next=_steps(table.away[each.days]), move=moves.index(each.move), why=each.id)
        for each in rules.ABSENCES
    ]
    return wire.Way(
        columns=table.column_of,
        next=[_steps(column) for column in table.next],
        moves=[moves.index(rule.move) for rule in rules.RETURN_RULES],
        why=table.why,
        rules=[rule.id for rule in rules.RETURN_RULES],
        away=away,
        passed={str(days): _bits(rows) for days, rows in table.passed.items()},
        free={str(days): _bits(sets) for days, sets in table.free.items()},
        mode=[go.mode for go in table.rows],
        settled=[go.settled for go in table.rows],
        days=[go.days for go in table.rows],
        feels=rules.FEEL_OF,
        order=rules.FEELS,
        flares=rules.FLARES,
        raises=rules.RAISES,
        apart=APART_DAYS,
        flare_days=FLARE_DAYS,
        step_days=STEP_DAYS,
        says={rule: words.say(text) for rule, text in RETURN_REASONS.items()},
        ladders={id_: _ladder(page, words) for id_, page in the_ladders().items()},
    )


def _ladder(page: LadderPage, words: Words) -> wire.WayLadder:
    say = words.say
    steps = [
        wire.WayStep(
            days_a_week=step.days_a_week,
            minutes=step.minutes,
            least_minutes=step.least_minutes,
            most_strokes=step.most_strokes,
            adds=say(adds),
        )
        for step, adds in zip(page.ladder.steps, page.adds, strict=True)
    ]
    return wire.WayLadder(
        name=say(page.name),
        text=say(page.text),
        caution=say(page.caution),
        strokes=say(page.strokes),
        steps=steps,
        moves=steps_after(page.ladder),
    )
