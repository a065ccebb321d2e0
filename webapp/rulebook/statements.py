"""The statements that are always true, each with the number of cases that were checked for the page."""

from webapp.dosing.responses import RESPONSES
from webapp.rulebook.checks import Walked
from webapp.rulebook.section import Section
from webapp.rulebook.wording import Wording
from webapp.words import rulebook as say


def _checked(wording: Wording, walked: Walked, number: str) -> str:
    if number not in walked.counts:
        return wording.say(say.NOT_COUNTED)
    checked, against = walked.counts[number]
    return wording.say(say.COUNTED[bool(against)], n=wording.number(checked), against=wording.number(against))


def statements(wording: Wording, walked: Walked) -> Section:
    """Return every statement with its count."""
    rows = ((number, wording.say(text), _checked(wording, walked, number)) for number, text in say.STATEMENTS.items())
    states, doses = wording.number(len(walked.table.states)), wording.number(len(walked.table.doses))
    return wording.section("statements", rows, states=states, doses=doses, responses=len(RESPONSES))
