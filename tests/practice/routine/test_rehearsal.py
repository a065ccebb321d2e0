"""The rehearsal of a routine version at the desk: what it plays, who may see it, and that it writes nothing."""

import json
import re
from html import unescape

import pytest

from tests.cast import BOOKBINDER
from webapp.library.routine import starter
from webapp.library.shelf import the_shelf
from webapp.records import cases, events
from webapp.sync.bundle.bundle import make_bundle, prescribed
from webapp.sync.bundle.rehearsal import rehearsal_of
from webapp.words import words_for

PATH = "/practice/cases/ansgar0001/rehearsal/1"


def played(page):
    return json.loads(unescape(re.search(r"data-played='([^']*)'", page.text)[1]))


@pytest.fixture
def both_arms():
    return prescribed(starter(BOOKBINDER.area), BOOKBINDER.settings, 1)


def test_the_case_page_leads_to_each_version(hedda):
    assert f'href="{PATH}"' in hedda.open("/practice/cases/ansgar0001").text


def test_a_rehearsal_has_the_steps_and_words_of_the_phones_own_sheet(both_arms):
    words, shelf = words_for(), the_shelf()
    bundle = make_bundle(both_arms, words, shelf)
    known = [{**step} for step in bundle["steps"]]
    rehearsal = rehearsal_of(both_arms, 1, 0, words, shelf)
    plain = [
        {name: value for name, value in step.items() if name not in {"arm", "weighted"}} for step in rehearsal["steps"]
    ]
    sheet = [step for step in plain if step["kind"] != "change_arm"]
    assert all(json.loads(json.dumps(step)) in known for step in sheet)
    places = [known.index(json.loads(json.dumps(step))) for step in sheet]
    right, left = places[: len(places) // 2], places[len(places) // 2 :]
    assert left in bundle["sheets"]
    assert left[:-1] == right


def test_two_arms_follow_one_another_with_a_change_between(both_arms):
    rehearsal = rehearsal_of(both_arms, 2, 0, words_for(), the_shelf())
    kinds = [(step["kind"], step["arm"]) for step in rehearsal["steps"]]
    change = kinds.index(("change_arm", "left"))
    assert {arm for _, arm in kinds[:change]} == {"right"}
    assert {arm for _, arm in kinds[change:]} == {"left"}
    assert [kind for kind, _ in kinds].count("done") == 1


@pytest.mark.parametrize(("ease", "share"), [(0, 1.0), (1, 0.75), (2, 0.5)])
def test_the_range_chosen_is_the_range_played(hedda, ease, share):
    sheet = played(hedda.open(f"{PATH}?rung=3&ease={ease}"))
    assert {step["range"] for step in sheet["steps"] if step["kind"] == "reps"} == {share}


def test_a_higher_rung_asks_for_more(hedda):
    reps = [sum(step["reps"] for step in played(hedda.open(f"{PATH}?rung={rung}"))["steps"]) for rung in (1, 3)]
    assert reps[0] < reps[1]


@pytest.mark.parametrize("query", ["?rung=0", "?rung=999", "?rung=x", "?ease=7", "?ease=-1"])
def test_what_is_not_on_the_ladder_gives_way_to_where_the_routine_begins(hedda, query):
    assert played(hedda.open(PATH + query)) == played(hedda.open(PATH))


def test_a_version_that_is_not_there_is_not_found(hedda):
    assert hedda.open("/practice/cases/ansgar0001/rehearsal/2").status_code == 404


def test_a_colleagues_client_is_not_found(hedda):
    assert hedda.open("/practice/cases/livia00001/rehearsal/1").status_code == 404


def test_nobody_rehearses_before_the_door(visitor):
    page = visitor.open(PATH)
    assert page.status_code == 303
    assert "sign-in" in page.headers["Location"]


def test_a_rehearsal_leaves_no_trace_in_the_log(site, hedda):
    before = events.of_client(site.db, site.founder.id)
    assert hedda.open(PATH).status_code == 200
    assert events.of_client(site.db, site.founder.id) == before
    assert cases.find(site.db, site.hedda.id, "ansgar0001")


def test_without_scripts_nothing_that_they_bring_to_life_can_be_pressed(hedda):
    page = hedda.open(PATH).text
    stage = page[page.index("data-rehearsal") :]
    hidden, steps = (
        re.search(r"<section[^>]* data-stage hidden>.*?</section>", stage, re.DOTALL)[0],
        stage.count("data-step="),
    )
    assert hidden.count("<button") == 3
    assert steps == len(re.findall(r"<button[^>]* data-step=\"\d+\" disabled>", stage)) > 0
    assert "<noscript>" in stage
