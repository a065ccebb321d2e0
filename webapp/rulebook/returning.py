"""The return ladders as rows: their steps, and what follows from a day with or without sport."""

from collections.abc import Iterator

from webapp.dosing.returning.rules import ABSENCES, FEELS, OUTINGS, RETURN_RULES, ReturnRule
from webapp.library.ladders import the_ladders
from webapp.rulebook.section import Section
from webapp.rulebook.wording import Wording
from webapp.words import returning as names
from webapp.words import rulebook as say


def _day(wording: Wording, rule: ReturnRule) -> str:
    sport = wording.say(say.ANY_SPORT) if rule.outings == OUTINGS else wording.listed(rule.outings, names.OUTINGS)
    feel = wording.say(say.ALWAYS) if rule.feels == FEELS else wording.listed(rule.feels, names.FEELS)
    return f"{wording.listed(rule.modes, names.GO_MODES)}: {sport}; {feel}"


def _rows(wording: Wording) -> Iterator[tuple[str, ...]]:
    for rule in RETURN_RULES:
        then = f"{wording.say(rule.effect)}; {wording.say(names.RETURN_MOVES[rule.move])}"
        limit = wording.number_or_nothing(rule.limit)
        yield rule.id, _day(wording, rule), wording.say(rule.condition), limit, then, wording.basis(rule.basis)
    for absence in ABSENCES:
        then, days = wording.say(absence.effect), wording.number(absence.days)
        yield (
            absence.id,
            wording.say(say.DAYS_WITHOUT_SPORT),
            wording.say(say.NOTHING),
            days,
            then,
            wording.basis(absence.basis),
        )


def return_rules(wording: Wording) -> Section:
    """Return what follows on a return ladder, a row for each of `rules.RETURN_RULES` and of `rules.ABSENCES`."""
    return wording.section("return", _rows(wording), "rules")


def return_ladders(wording: Wording) -> Section:
    """Return the steps of every return ladder of the content."""
    rows = (
        (
            wording.say(page.name),
            wording.number(number),
            wording.number(step.days_a_week),
            wording.number(step.minutes),
            wording.number_or_nothing(step.most_strokes),
            wording.say(adds),
        )
        for page in the_ladders().values()
        for number, (step, adds) in enumerate(zip(page.ladder.steps, page.adds, strict=True), start=1)
    )
    return wording.section("return ladders", rows)
