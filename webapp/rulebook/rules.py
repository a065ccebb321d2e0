"""The rules as rows: how a day is classed, what follows from it, and what the review looks for."""

import re
from collections.abc import Iterator

from webapp.dosing import figures
from webapp.dosing.offers import MOST_CEILING_BY_TAP, PAUSE
from webapp.dosing.responses import CLASSES, IDLE, RESPONSES, ClassRule
from webapp.dosing.review import FINDINGS
from webapp.dosing.rules import RULES, STEPS, Rule
from webapp.rulebook.section import Section
from webapp.rulebook.wording import Wording
from webapp.words import rulebook as say
from webapp.words import rulebook_terms as terms
from webapp.words.findings import CONSIDER
from webapp.words.reasons import REASONS

TUNED = {
    "aching": ("settled_during",),
    "aching-untold": ("settled_during",),
    "calm": ("settled_during",),
    "widen": ("widen_days",),
    "climb": ("climb_days", "heavier_days"),
    "pace": ("fast_heavier_days",),
}
"""The settings in a row's condition, where its number is a setting of the routine and not in the table."""
GAP = re.compile(r"%\(\w+\)s")


def _limit(wording: Wording, rule: ClassRule | Rule) -> str:
    if rule.id in TUNED:
        return "; ".join(wording.tunable(name) for name in TUNED[rule.id])
    return wording.number_or_nothing(rule.limit)


def _class(wording: Wording, rule: ClassRule) -> str:
    response = wording.say(terms.RESPONSES[rule.response])
    if not rule.idle:
        return response
    return wording.say(say.AND_WITHOUT, response=response, idle=wording.say(terms.RESPONSES[rule.idle]))


def classes(wording: Wording) -> Section:
    """Return how a day is classed, a row for each of `responses.CLASSES`."""
    rows = (
        (rule.id, wording.say(rule.condition), _limit(wording, rule), _class(wording, rule), wording.basis(rule.basis))
        for rule in CLASSES
    )
    enough, calm = wording.share(figures.ENOUGH_DONE.value), wording.number(figures.SETTLED_MORNING.value)
    sore = wording.number(figures.SORE_OVER_USUAL.value)
    return wording.section("classes", rows, enough=enough, calm=calm, sore=sore)


def _day(wording: Wording, rule: Rule) -> str:
    special = {RESPONSES: say.ALWAYS, IDLE: say.IDLE}
    if rule.responses in special:
        day = wording.say(special[rule.responses])
    else:
        day = wording.listed(rule.responses, terms.RESPONSES)
    return f"{wording.listed(rule.modes, terms.MODES)}: {day}"


def _rows(wording: Wording, step: str) -> Iterator[tuple[str, ...]]:
    for rule in (rule for rule in RULES if rule.step == step):
        when, then = wording.say(rule.condition), wording.say(rule.effect)
        yield rule.id, _day(wording, rule), when, _limit(wording, rule), then, wording.basis(rule.basis)


def steps(wording: Wording) -> Iterator[Section]:
    """Yield the rules that follow from a day, a part for each step in which a day is closed."""
    gaps = {
        "one": wording.number(figures.RANGE_BY_EASE[1].value),
        "two": wording.number(figures.RANGE_BY_EASE[2].value),
        "days": wording.number(figures.FIRST_WEEK_DAYS.value),
        "first": wording.number(figures.FIRST_DAYS_WORK.value),
        "later": wording.number(figures.FIRST_WEEK_WORK.value),
        "climbed": wording.number(figures.FIRST_CLIMBED_DAY.value),
    }
    return (wording.section(step, _rows(wording, step), "rules", **gaps) for step in STEPS)


def review(wording: Wording) -> Section:
    """Return what the review looks for and what it then suggests, a row for each of `review.FINDINGS`."""
    rows = (
        (
            watch.id,
            wording.say(watch.condition),
            wording.number_or_nothing(watch.limit),
            GAP.sub("…", wording.say(CONSIDER[watch.id])),
            wording.basis(watch.basis),
        )
        for watch in FINDINGS
    )
    by_hand = wording.number(figures.USUAL_BY_HAND.value)
    return wording.section("review", rows, pause=PAUSE.days, by_hand=by_hand, ceiling=MOST_CEILING_BY_TAP)


def reasons(wording: Wording) -> Section:
    """Return the sentence that a client reads for each rule and for each change by hand."""
    return wording.section("reasons", ((rule, wording.say(sentence)) for rule, sentence in REASONS.items()))
