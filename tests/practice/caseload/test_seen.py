"""A client marked as seen stands at the end of the group until a day, or until something new comes that is no milder."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from tests.builders import days_of, enrol, event, session
from tests.cast import BELL_FOUNDER, FIRST_DAY
from tests.practice.caseload.test_who_needs_you import flares, groups_on, lines_of
from webapp.records import seen

TODAY = date(2026, 3, 9)
BACK_ON = TODAY + timedelta(days=3)


@pytest.fixture
def both(site):
    """Two clients who flared twice, the bell founder before his twin by the order of the names."""
    twin = enrol(site.db, site.hedda.id, replace(BELL_FOUNDER, name="Zoltan Tolle", public_id="zoltan0001"))
    for client in (site.founder, twin):
        site.begin(client, days_of(FIRST_DAY, flares()))


@pytest.fixture
def path(site):
    return f"/practice/cases/{site.founder.public_id}/seen"


def needs(hedda):
    return groups_on(hedda.open("/practice"))["needs"]


def mark(hedda, path, until=BACK_ON, note=""):
    hedda.open(path)
    return hedda.fill("", {"seen_until": str(until), "seen_note": note}, post_to=path)


def test_who_is_marked_goes_to_the_end_of_the_group_and_the_row_says_until_when(site, hedda, both, path):
    assert needs(hedda) == ["Ansgar Tolle", "Zoltan Tolle"]
    mark(hedda, path, note="rang him, rests till then")
    assert needs(hedda) == ["Zoltan Tolle", "Ansgar Tolle"]
    assert "Seen, back on Thu 12 Mar 2026: rang him, rests till then" in hedda.text
    assert "1 marked as seen" in hedda.text


def test_on_the_day_the_client_is_back(site, hedda, both, path):
    mark(hedda, path)
    site.clock.pass_by(days=2)
    assert lines_of(site)["Ansgar Tolle"].seen
    site.clock.pass_by(days=1)
    assert lines_of(site)["Ansgar Tolle"].seen is None


def test_something_new_and_worse_brings_the_client_back_at_once_and_something_milder_does_not(site, hedda, both, path):
    mark(hedda, path)
    site.receive(site.founder, [event("letter_written", TODAY, {"text": "Hello"}, seq=60)])
    assert lines_of(site)["Ansgar Tolle"].seen, "a letter is milder than a flare"
    site.receive(site.founder, [session(TODAY, 9, sharp=True, seq=61)])
    assert lines_of(site)["Ansgar Tolle"].seen is None


def test_what_came_in_while_the_form_was_open_is_not_marked_as_seen(site, hedda, both, path):
    hedda.open(path)
    site.receive(site.founder, [session(TODAY, 9, sharp=True, seq=61)])
    hedda.fill("", {"seen_until": str(BACK_ON)}, post_to=path)
    assert seen.of_clients(site.db, [site.founder.id])
    assert lines_of(site)["Ansgar Tolle"].seen is None


def test_a_mark_is_taken_back(site, hedda, both, path):
    mark(hedda, path)
    hedda.open(path)
    hedda.fill("/back", {}, post_to=f"{path}/back")
    assert seen.of_clients(site.db, [site.founder.id]) == {}
    assert "The mark is taken back." in hedda.text


@pytest.mark.parametrize(("until", "note", "said"), [("", "", "still empty"), ("next week", "", "is not a day"),
                                                     (TODAY, "", "is not a day"), (BACK_ON, "x" * 141, "too many")])  # fmt: skip
def test_what_cannot_be_is_answered_beside_the_field_with_what_was_typed_kept(site, hedda, path, until, note, said):
    answer = mark(hedda, path, until, note)
    assert answer.status_code == 400
    assert said in hedda.text
    assert f'value="{until}"' in hedda.page.text
    assert seen.of_clients(site.db, [site.founder.id]) == {}


def test_no_mark_is_in_the_log_that_a_phone_reads(site, hedda, both, path):
    kinds = [row[0] for row in site.db.execute("SELECT kind FROM events").fetchall()]
    mark(hedda, path, note="only for us")
    assert [row[0] for row in site.db.execute("SELECT kind FROM events").fetchall()] == kinds


def test_nobody_marks_another_practitioners_client(site, hedda):
    path = f"/practice/cases/{site.organ_builder.public_id}/seen"
    assert hedda.open(path).status_code == 404
    assert seen.of_clients(site.db, [site.organ_builder.id]) == {}
