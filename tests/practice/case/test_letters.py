"""Letters at the desk: what the practitioner sees, answers and marks as read, and what the caseload says of it."""

from dataclasses import dataclass

import pytest

from tests.builders import date, event, uuid7
from tests.practice.put_on_record import put
from webapp.practice.caseload.lines import caseload_of
from webapp.records import events, letters
from webapp.sync.case.letters import thread_of

CASE = "/practice/cases/ansgar0001"
ANSWER, SEEN = f"{CASE}/letters", f"{CASE}/letters/seen"
TODAY = date(2026, 3, 9)


def _written(seq, text="Sunday's concert went an hour over.", **other):
    return event("letter_written", TODAY, {"text": text}, seq=seq, hour=7, **other)


@dataclass
class Desk:
    """Hedda at the case page of the founder."""

    site: object
    hedda: object

    def send(self, text, **changes):
        return self.hedda.fill("/letters", {"letter-text": text, **changes}, post_to=ANSWER)

    @property
    def thread(self):
        return thread_of(self.site.db, self.site.founder.id)

    @property
    def unread(self):
        return letters.unread_of_client(self.site.db, self.site.founder.id)


@pytest.fixture
def desk(site, hedda):
    site.begin(site.founder, [])
    hedda.open(CASE)
    return Desk(site, hedda)


def test_a_letter_stands_on_the_case_page_as_unread_and_in_the_caseload_before_the_silent(site, hedda, desk):
    site.begin(site.cellist, [])
    names = [line.case.name for line in caseload_of(site.db, site.hedda.id, site.clock()).lines]
    assert names[0] == "Ansgar Tolle"
    site.receive(site.cellist, [_written(1, "My hand is <b>numb</b>.\nSince Friday.")])
    lines = caseload_of(site.db, site.hedda.id, site.clock()).lines
    assert next((line.case.name, line.unread_letters, line.group) for line in lines) == ("Isaura Linde", 1, "needs")
    hedda.open("/practice")
    assert "1 letter waits for you." in hedda.text
    hedda.open("/practice/cases/isaura0001")
    assert "My hand is &lt;b&gt;numb&lt;/b&gt;.\nSince Friday." in hedda.page.text
    assert "Not read yet" in hedda.text


def test_an_answer_goes_into_the_log_and_marks_what_was_shown_as_read(site, hedda, desk):
    site.receive(site.founder, [_written(1)])
    hedda.open(CASE)
    desk.send(" Two calm days.\r\nThen Tuesday. ")
    assert "The letter is on its way" in hedda.text
    theirs, own = desk.thread
    assert (theirs.is_unread, theirs.read_on) == (False, TODAY)
    assert (own.text, own.by, own.on, own.read_on) == ("Two calm days.\nThen Tuesday.", "Hedda Marrow", TODAY, None)
    assert desk.unread == 0
    assert "not read by the client yet" in hedda.text
    site.receive(site.founder, [event("letter_read", TODAY, {"letters": [own.id]}, seq=2)])
    hedda.open(CASE)
    assert "read by the client on Mon 9 Mar 2026" in hedda.text


def test_a_form_that_is_sent_twice_writes_once(hedda, desk):
    form = hedda.form("/letters")
    form["letter-text"] = "Once."
    assert [hedda.send(ANSWER, form).status_code for _ in range(2)] == [303, 303]
    assert [letter.text for letter in desk.thread] == ["Once."]


@pytest.mark.parametrize("key", ["", "another", uuid7(1), "../x"])
def test_a_key_of_another_shape_or_of_another_entry_loses_no_letter(site, hedda, desk, key):
    site.receive(site.founder, [_written(1)])
    hedda.open(CASE)
    desk.send("Sent.", **{"letter-key": key})
    assert [letter.text for letter in desk.thread if not letter.is_clients] == ["Sent."]


def test_a_form_that_lacks_its_key_loses_no_letter_and_one_that_lacks_what_was_seen_is_asked_again(hedda, desk):
    form = {name: text for name, text in hedda.form("/letters").items() if name != "letter-key"} | {
        "letter-text": "Calm."
    }
    assert hedda.send(ANSWER, form).status_code == 303
    assert [letter.text for letter in desk.thread] == ["Calm."]
    hedda.open(CASE)
    form = {name: text for name, text in hedda.form("/letters").items() if name != "letter-seen"} | {
        "letter-text": "Again."
    }
    assert hedda.send(ANSWER, form).status_code == 409


def test_while_another_letter_came_in_nothing_is_sent_and_what_was_typed_stays(site, hedda, desk):
    site.receive(site.founder, [_written(1, "And my hand is numb.")])
    assert desk.send("All is well.").status_code == 409
    assert "while this page was open, another letter came in" in hedda.text
    assert "And my hand is numb." in hedda.text
    assert hedda.form("/letters")["letter-text"].strip() == "All is well."
    assert len(desk.thread) == 1
    assert desk.send("See a doctor today.").status_code == 200
    assert desk.thread[-1].text == "See a doctor today."


def test_another_text_in_a_form_that_was_sent_is_not_lost_and_two_browsers_do_not_answer_past_each_other(
    site, hedda, desk
):
    first = hedda.form("/letters")
    desk.send("From the other browser.")
    first["letter-text"] = "From this one."
    assert hedda.send(ANSWER, first).status_code == 409
    assert "From the other browser." in hedda.text
    assert hedda.form("/letters")["letter-text"].strip() == "From this one."
    site.clock.pass_by(minutes=1)
    assert desk.send("From this one.").status_code == 200
    assert [letter.text for letter in desk.thread] == ["From the other browser.", "From this one."]


@pytest.mark.parametrize(("text", "said"), [("  \n ", "still empty"), ("🙂" * 1001, "1001 characters are too many")])
def test_what_is_wrong_is_said_beside_the_field_and_nothing_is_lost(hedda, desk, text, said):
    assert desk.send(text).status_code == 400
    assert 'id="letter-text-fault"' in hedda.page.text
    assert said in hedda.text
    assert hedda.form("/letters")["letter-text"].strip() == text.strip()
    assert desk.thread == []


def test_a_thousand_characters_of_any_script_are_sent_and_ends_of_lines_count_once(hedda, desk):
    desk.send("ش\r\n" * 500)
    assert len(desk.thread[0].text) == 999


def test_letters_are_marked_as_read_without_an_answer_and_only_those_that_were_shown(site, hedda, desk):
    site.receive(site.founder, [_written(1), _written(2)])
    hedda.open(CASE)
    site.receive(site.founder, [_written(3)])
    form = hedda.form("/seen")
    assert [hedda.send(SEEN, form).status_code for _ in range(2)] == [303, 303]
    assert [letter.is_unread for letter in desk.thread] == [False, False, True]
    assert len(events.of_kind(site.db, site.founder.id, "letter_seen")) == 1
    assert desk.unread == 1


def test_a_letter_that_was_taken_back_is_neither_shown_nor_counted(site, hedda, desk):
    back = event("entry_corrected", TODAY, {"replaces": uuid7(1), "body": None}, seq=2)
    site.receive(site.founder, [_written(1, "Never mind."), back])
    hedda.open(CASE)
    assert "Never mind." not in hedda.text
    assert desk.unread == 0


def test_of_many_letters_the_last_are_shown_and_every_unread_one(site, hedda, desk):
    site.receive(site.founder, [_written(seq, f"Letter {seq}.") for seq in range(1, 51)])
    hedda.open(CASE)
    assert "Letter 1." in hedda.text
    assert "50 unread" in hedda.text
    hedda.send(SEEN, hedda.form("/seen"))
    hedda.open(CASE)
    assert ("Letter 42." in hedda.text, "Letter 43." in hedda.text) == (False, True)
    assert "Show 42 earlier letters" in hedda.text
    hedda.open(f"{CASE}?letters=all")
    assert "Letter 1." in hedda.text


def test_no_phone_writes_for_the_practice_nor_reads_in_its_name(site, desk):
    put(site.db, site.founder.id, [
        _written(1),
        event("letter_answered", TODAY, {"text": "Train harder.", "by": "Hedda Marrow"}, seq=2),
        event("letter_seen", TODAY, {"letters": [uuid7(1)]}, seq=3),
    ])  # fmt: skip
    assert [(letter.is_clients, letter.is_unread) for letter in desk.thread] == [(True, True)]


def test_nobody_answers_a_client_of_another_practitioner(hedda, desk):
    form = hedda.form("/letters")
    form["letter-text"] = "Hello."
    assert hedda.send("/practice/cases/teodor0001/letters", form).status_code == 404


def test_a_form_without_its_token_sends_nothing_and_keeps_what_was_typed(hedda, desk):
    entries = {**hedda.form("/letters").to_dict(), "letter-text": "Kept.", "letter-csrf_token": ""}
    assert hedda.send(ANSWER, entries).status_code == 400
    assert "Please send it once more" in hedda.text
    assert hedda.form("/letters")["letter-text"].strip() == "Kept."
    assert desk.thread == []
