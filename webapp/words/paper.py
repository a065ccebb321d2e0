"""A day's dose as a page of plain text, for a terminal of 80 columns.

May know the parts of a dose as given; decides nothing.
"""

import textwrap
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from webapp.dosing.course import ClosedDay
from webapp.dosing.dose import Dose
from webapp.dosing.plan import Plan
from webapp.dosing.state import State
from webapp.words.amounts import number_text
from webapp.words.catalogue import Words, mark_plural
from webapp.words.closed_days import class_word, classed_text, state_text
from webapp.words.days import day_text
from webapp.words.doses import dose_summary
from webapp.words.reasons import arm_text, mode_text, reason_text, response_text

WIDTH = 80
WARM_UPS = mark_plural("%(name)s: %(n)d time, to warm up", "%(name)s: %(n)d times, to warm up")
HOLDS = mark_plural("%(name)s: hold %(n)d second", "%(name)s: hold %(n)d seconds")


@dataclass(frozen=True)
class ArmPage:
    """The contents of the page for one arm.

    Attributes:
        arm: right or left.
        response: How the day before went, or None.
        reasons: Rule ids.
        state: At the start of the day.
        top: The number of the highest rung.
        dose: What the day asks.
        minutes: One session's length.
    """

    arm: str
    response: str | None
    reasons: tuple[str, ...]
    state: State
    top: int
    dose: Dose
    minutes: int


def flowed(text: str, indent: int = 2) -> str:
    """Break a sentence into lines of at most 80 columns; lines after the first are indented by two more."""
    after = " " * (indent + 2)
    return textwrap.fill(text, WIDTH, initial_indent=" " * indent, subsequent_indent=after, break_on_hyphens=False)


def _why_lines(words: Words, page: ArmPage) -> list[str]:
    lines = []
    if page.response is not None:
        lines.append(words.say("The day before: %(response)s", response=response_text(words, page.response)))
    return lines + [reason_text(words, rule) for rule in page.reasons]


def _place_line(words: Words, page: ArmPage) -> str:
    return words.say(
        "%(mode)s, rung %(rung)s of %(top)s.",
        mode=mode_text(words, page.state.mode),
        rung=page.state.rung,
        top=page.top,
    )


def _warm_up_lines(words: Words, dose: Dose, names: Mapping[str, str]) -> list[str]:
    return [words.plural(*WARM_UPS, each.reps, name=names[each.movement]) for each in dose.warm_ups]


def _last_lines(words: Words, dose: Dose, names: Mapping[str, str]) -> list[str]:
    lines = [words.plural(*HOLDS, hold.seconds, name=names[hold.movement]) for hold in dose.holds]
    if dose.sets:
        lines.append(words.say("Wrist work of the day: %(work)s J", work=number_text(words, round(dose.work_j, 1))))
    return lines


def arm_lines(
    words: Words, page: ArmPage, names: Mapping[str, str], weights: Sequence[Mapping[str, Any]] = ()
) -> list[str]:
    """Return one arm's day in lines of at most 80 columns."""
    first, *sets = dose_summary(words, page.dose, names, weights, page.minutes)
    lines = [*_why_lines(words, page), _place_line(words, page), first]
    lines += [*_warm_up_lines(words, page.dose, names), *sets, *_last_lines(words, page.dose, names)]
    return [arm_text(words, page.arm), *(flowed(line) for line in lines)]


def _work_text(words: Words, dose: Dose) -> str:
    if not dose.sets:
        return words.say("nothing")
    reps = "/".join(str(each.reps) for each in dose.sets)
    work = number_text(words, round(dose.work_j, 1))
    return words.plural(
        "%(n)d session of %(reps)s reps, %(work)s J", "%(n)d sessions of %(reps)s reps, %(work)s J", dose.sessions,
        reps=reps, work=work,
    )  # fmt: skip


def sentences_of_day(words: Words, day: ClosedDay, plan: Plan) -> list[str]:
    """Return the sentences of one closed day: the asked work, the class and why, the rules, the states before and after."""
    before, after = (state_text(words, state, plan) for state in (day.state_before, day.state_after))
    return [
        words.say("Asked: %(work)s.", work=_work_text(words, day.dose)),
        words.say("%(word)s: %(why)s.", word=class_word(words, day.response), why=classed_text(words, day, plan)),
        *(words.say("%(reason)s [%(rule)s]", reason=reason_text(words, rule), rule=rule) for rule in day.reasons),
        words.say("Before: %(before)s.", before=before),
        words.say("After: %(after)s.", after=after),
    ]


def _day_lines(words: Words, day: ClosedDay, plan: Plan) -> list[str]:
    return ["", day_text(words, day.on), *(flowed(line) for line in sentences_of_day(words, day, plan))]


def closed_day_lines(words: Words, arm: str, days: Sequence[ClosedDay], plan: Plan) -> list[str]:
    """Return the sentences of one arm's closed days, in lines of at most 80 columns, the oldest day first."""
    if not days:
        return [arm_text(words, arm), flowed(words.say("No day is closed yet."))]
    return [arm_text(words, arm), *(line for day in days for line in _day_lines(words, day, plan))]
