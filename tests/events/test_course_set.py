"""The course that the practice sets: which one is in force, and which days maintenance asks for."""

import random
from datetime import date, timedelta

import pytest

from tests.builders import event
from webapp.events.codec import decode
from webapp.events.course_set import TRAINING, course_on, courses_set, days_done, next_asked
from webapp.events.kinds import EventError

DAY = date(2026, 3, 2)
GOOD = {"to": "maintenance", "days_a_week": 2, "reason": "The goal is reached.", "by": "Hedda Marrow"}


def _on(number: int) -> date:
    return DAY + timedelta(days=number)


def _set(number: int, to: str, seq: int, until: int = 0) -> dict:
    return event("course_set", _on(number), {**GOOD, "to": to, "until": _on(until).isoformat()}, seq=seq)


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"to": "paused"}, "body.to"),
        ({"days_a_week": 1}, "body.days_a_week"),
        ({"days_a_week": 6}, "body.days_a_week"),
        ({"days_a_week": None}, "body.days_a_week"),
        ({"reason": "x" * 281}, "body.reason"),
        ({"by": 3}, "body.by"),
        ({"seen_again_on": "in May"}, "body.seen_again_on"),
        ({"seen_again_on": None}, "body.seen_again_on"),
        ({"to": "rest"}, "body.until"),
        ({"to": "rest", "until": "Thursday"}, "body.until"),
    ],
)
def test_a_body_that_does_not_fit_is_refused_and_its_field_named(change, field):
    decode(event("course_set", DAY, GOOD))
    with pytest.raises(EventError) as refused:
        decode(event("course_set", DAY, GOOD | change))
    assert refused.value.field == field


def test_the_last_course_that_has_begun_counts_whatever_the_order_of_the_log():
    log = [_set(3, "maintenance", 5), _set(9, "ended", 3), _set(3, "ended", 6), _set(3, "training", 4)]
    for seed in range(5):
        random.Random(seed).shuffle(log)  # noqa: S311 - the order of an invented log, not a secret
        found = courses_set(map(decode, log))
        assert [course_on(found, _on(number)).to for number in (2, 3, 8, 9)] == ["training", "ended", "ended", "ended"]
    assert course_on((), DAY) == TRAINING
    assert {each.days_a_week for each in found} == {0, 2}


def test_a_copy_counts_once():
    assert len(courses_set(map(decode, [_set(3, "ended", 5)] * 2))) == 1


def test_of_seven_days_in_a_row_as_many_are_asked_for():
    trained = {_on(10), _on(11)}
    assert [days_done(trained, _on(number)) for number in (10, 11, 12, 16, 17, 18)] == [0, 1, 2, 2, 1, 0]
    assert next_asked(trained, _on(12), 2) == _on(17)
    assert next_asked(trained, _on(12), 3) == _on(12)


def test_a_rest_ends_by_itself_and_what_was_in_force_beside_it_goes_on():
    found = courses_set(map(decode, [_set(1, "maintenance", 1), _set(5, "rest", 2, until=9)]))
    assert [course_on(found, _on(number)).to for number in (4, 5, 8, 9)] == [
        "maintenance",
        "rest",
        "rest",
        "maintenance",
    ]
    assert [course_on(found, _on(number)).since for number in (8, 9, 20)] == [_on(5), _on(9), _on(9)]


def test_after_a_rest_from_training_it_is_training_again_with_the_reason_of_the_rest():
    found = courses_set(map(decode, [_set(5, "rest", 2, until=9)]))
    course = course_on(found, _on(9))
    assert (course.to, course.since, course.reason, course.until) == ("training", _on(9), GOOD["reason"], None)


def test_a_later_word_of_the_practice_ends_a_rest_and_a_shorter_rest_shortens_it():
    taken_back = courses_set(map(decode, [_set(5, "rest", 2, until=20), _set(7, "training", 3)]))
    shortened = courses_set(map(decode, [_set(5, "rest", 2, until=20), _set(6, "rest", 3, until=8)]))
    assert [course_on(taken_back, _on(number)).to for number in (6, 7, 25)] == ["rest", "training", "training"]
    assert [course_on(shortened, _on(number)).to for number in (7, 8, 12)] == ["rest", "training", "training"]


def test_a_rest_whose_last_day_was_over_before_it_began_asks_for_nothing_else():
    found = courses_set(map(decode, [_set(5, "rest", 2, until=3)]))
    assert course_on(found, _on(5)).to == "training"
