"""The thread of letters: what is in it, in which order, and what each side has read."""

from datetime import date, timedelta

import pytest

from tests.builders import event, uuid7
from tests.cast import FIRST_DAY
from webapp.events.codec import check_body, decode
from webapp.events.kinds import EventError
from webapp.events.letter_bodies import LETTER_LENGTH
from webapp.events.letters import letters_of

NEXT_DAY = FIRST_DAY + timedelta(days=1)


def written(seq, text="How are you?", on=FIRST_DAY, **other):
    return event("letter_written", on, {"text": text}, seq=seq, **other)


def answered(seq, text="Well.", on=FIRST_DAY, **other):
    return event("letter_answered", on, {"text": text, "by": "Hedda Marrow"}, seq=seq, **other)


def reading(kind, seq, *letters, on=NEXT_DAY):
    return event(kind, on, {"letters": [uuid7(each) for each in letters]}, seq=seq)


def taking_back(seq, letter, body=None):
    return event("entry_corrected", FIRST_DAY, {"replaces": uuid7(letter), "body": body}, seq=seq)


def thread(*entries):
    return letters_of([decode(entry) for entry in entries])


def test_letters_stand_in_the_order_in_which_they_were_written_however_they_came():
    found = thread(answered(2, on=NEXT_DAY), written(1), written(3, on=NEXT_DAY, hour=23))
    assert [(letter.id, letter.is_clients, letter.by) for letter in found] == [
        (uuid7(1), True, ""),
        (uuid7(2), False, "Hedda Marrow"),
        (uuid7(3), True, ""),
    ]


def test_instants_in_other_zones_are_compared_as_instants():
    late, early = written(1, at="2026-03-02T09:00:00+02:00"), written(2, at="2026-03-02T06:30:00Z")
    assert [letter.id for letter in thread(late, early)] == [uuid7(2), uuid7(1)]


def test_each_side_reads_the_letters_of_the_other_and_the_first_day_counts():
    entries = [written(1), answered(2), written(3)]
    readings = [
        reading("letter_seen", 4, 1, on=NEXT_DAY),
        reading("letter_seen", 5, 1, on=FIRST_DAY),
        reading("letter_read", 6, 2),
    ]
    found = {letter.id: (letter.read_on, letter.is_unread) for letter in thread(*entries, *readings)}
    assert found == {uuid7(1): (FIRST_DAY, False), uuid7(2): (NEXT_DAY, False), uuid7(3): (None, True)}


def test_nobody_reads_their_own_letters():
    found = thread(written(1), answered(2), reading("letter_read", 3, 1), reading("letter_seen", 4, 2))
    assert [letter.read_on for letter in found] == [None, None]


def test_a_letter_that_was_taken_back_is_gone_unless_the_practice_has_read_it():
    assert thread(written(1), taking_back(2, 1)) == []
    read = thread(written(1), taking_back(2, 1), reading("letter_seen", 3, 1))
    assert [letter.id for letter in read] == [uuid7(1)]


def test_no_correction_changes_the_text_of_a_letter_and_none_takes_back_an_answer():
    found = thread(written(1), answered(2), taking_back(3, 1, {"text": "Something else."}), taking_back(4, 2))
    assert [letter.text for letter in found] == ["How are you?", "Well."]


@pytest.mark.parametrize("letter", ["x", "é", "語", "🙂", "ش"])
def test_a_letter_is_counted_in_code_points(letter):
    check_body("letter_written", {"text": letter * LETTER_LENGTH})
    with pytest.raises(EventError):
        check_body("letter_written", {"text": letter * (LETTER_LENGTH + 1)})


@pytest.mark.parametrize(
    ("kind", "body", "field"),
    [
        ("letter_written", {"text": ""}, "body.text"),
        ("letter_answered", {"text": "", "by": "Hedda"}, "body.text"),
        ("letter_answered", {"text": "Well."}, "body.by"),
        ("letter_seen", {"letters": ["all"]}, "body.letters"),
        ("letter_read", {}, "body.letters"),
    ],
)
def test_a_letter_has_words_and_a_reading_names_letters(kind, body, field):
    with pytest.raises(EventError) as caught:
        check_body(kind, body)
    assert caught.value.field == field


def test_a_log_of_other_things_has_no_letters():
    assert thread(event("note_read", date(2026, 3, 2), {"version": 1})) == []
