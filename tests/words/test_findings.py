"""Every finding has its words, and they fill; a class of a day has them too."""

import pytest

from tests.vectors.reviews import COURSES, case_of
from webapp.dosing.course import SHARP_TOLD
from webapp.dosing.responses import CLASSES, SHOWN
from webapp.dosing.review import FINDINGS, review
from webapp.words import words_for
from webapp.words.closed_days import CLASS_WORDS, CLASSED_BY, classed_text
from webapp.words.findings import CONSIDER, FOUND, consider_text, evidence_text, finding_text, since_text


def finding_of(name, course=None):
    return next(finding for finding in review(case_of(course or name)) if finding.id == name)


def test_every_id_of_the_tables_has_words():
    assert set(CLASSED_BY) == {rule.id for rule in CLASSES} | {SHARP_TOLD}
    assert set(CLASS_WORDS) == set(SHOWN.values())
    assert set(FOUND) == set(CONSIDER) == {watch.id for watch in FINDINGS}


@pytest.mark.parametrize("name", COURSES)
def test_every_sentence_fills_with_the_numbers_of_a_real_course(name):
    words, case = words_for(), case_of(name)
    assert all("%(" not in classed_text(words, day, case.plan) for day in case.days)
    for finding in review(case):
        texts = [tell(words, finding) for tell in (finding_text, consider_text, since_text, evidence_text)]
        assert all("%(" not in text for text in texts)
        assert all(texts[:3])


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("week-worse", "Mornings are worse than the week before: the middle value is 2, and was 0."),
        ("no-session", "No session for 3 days."),
        ("silent", "No session for 8 days."),
        ("aching", "No climb for 11 days: sessions are rated over 3. The arm stands on rung 3."),
    ],
)
def test_a_finding_names_the_numbers_it_rests_on(name, said):
    assert finding_text(words_for(), finding_of(name)) == said


def test_a_standstill_says_how_many_days_of_each_kind_there_were():
    text = evidence_text(words_for(), finding_of("away"))
    assert text == "Of the last 14 days without a climb: 5 settled, 9 without a session."


def test_a_jump_names_the_weights_that_bridge_it_in_kilograms():
    text = consider_text(words_for(), finding_of("jump-ahead"))
    assert text.startswith("A weight of 0.6 kg to 0.67 kg in between would bridge it")


def test_a_jump_that_just_a_single_weight_bridges_is_told_without_a_range():
    text = consider_text(words_for(), finding_of("jump-ahead", "jump-with-one-bridge"))
    assert text.startswith("A weight of 0.67 kg in between would bridge it")


def test_a_jump_that_no_single_weight_bridges_is_not_said_to_be_bridged():
    text = consider_text(words_for(), finding_of("jump-ahead", "jump-too-wide"))
    assert text.startswith("No single weight in between would bridge it")


def test_a_load_is_told_in_the_unit_it_was_entered_in():
    entered = [{"value": 4, "unit": "lb"}]
    assert finding_text(words_for(), finding_of("peak"), entered).startswith(
        "With 4 lb the heaviest moment is about 32"
    )
