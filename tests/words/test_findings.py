"""Every finding and every class of a day has its words, and they fill."""

from datetime import timedelta

import pytest

from tests.vectors.reviews import COURSES, START
from webapp.dosing.course import SHARP_TOLD, follow
from webapp.dosing.plan import start_state
from webapp.dosing.responses import CLASSES, RESPONSES
from webapp.dosing.review import FINDINGS, Case, review
from webapp.words import words_for
from webapp.words.accounts import CLASS_WORDS, CLASSED_BY, classed_text
from webapp.words.findings import CONSIDER, FOUND, consider_text, evidence_text, finding_text, since_text


def closed(name):
    plan, facts = COURSES[name]
    today = START + timedelta(len(facts))
    by_day = {START + timedelta(number): known for number, known in enumerate(facts)}
    return plan, follow(plan, start_state(plan), START, by_day, today), today


def test_every_id_of_the_tables_has_words():
    assert set(CLASSED_BY) == {rule.id for rule in CLASSES} | {SHARP_TOLD}
    assert set(CLASS_WORDS) == set(RESPONSES)
    assert set(FOUND) == set(CONSIDER) == {watch.id for watch in FINDINGS}


@pytest.mark.parametrize("name", COURSES)
def test_every_sentence_fills_with_the_numbers_of_a_real_course(name):
    words = words_for()
    plan, days, today = closed(name)
    assert all("%(" not in classed_text(words, day, plan) for day in days)
    for finding in review(Case(plan, days, days[-1].state_after, today)):
        told = [tell(words, finding) for tell in (finding_text, consider_text, since_text, evidence_text)]
        assert all("%(" not in text for text in told)
        assert all(told[:3])


def test_a_finding_names_the_numbers_it_rests_on():
    plan, days, today = closed("week-worse")
    (finding,) = (found for found in review(Case(plan, days, days[-1].state_after, today)) if found.id == "week-worse")
    assert finding_text(words_for(), finding) == "Mornings were worse than the week before: median 2 after 1."
