"""Who needs the practitioner stands first, with why, since when and the next step; the well and the finished stand below."""

import re
from dataclasses import replace
from datetime import date, timedelta

import pytest

from tests.builders import days_of, enrol, event
from tests.cast import BELL_FOUNDER, FIRST_DAY
from tests.practice.conftest import hold_cellist
from webapp.app import renew_rows
from webapp.practice.caseload.groups import MOST
from webapp.practice.caseload.lines import caseload_of
from webapp.records import cases

SETTLED = [(1, 1)] * 7


def groups_on(page):
    """Return the names of the clients by group, as the page shows them."""
    parts = re.split(r'aria-labelledby="group-(\w+)"', page.text)
    return {
        name: re.findall(r"<h3><a[^>]*><bdi>([^<]+)", said) for name, said in zip(parts[1::2], parts[2::2], strict=True)
    }


def flares(days=7, *, on=(3, 6)):
    """Days in the course of which the arm flares twice, each time after a calm morning."""
    return [(7, 2) if number in on else (1, 1) for number in range(days)]


def lines_of(site):
    return {line.case.name: line for line in caseload_of(site.db, site.hedda.id, site.clock()).lines}


def test_who_flared_twice_needs_you_and_is_not_called_in_training(site, hedda):
    site.begin(site.founder, days_of(FIRST_DAY, flares()))
    page = hedda.open("/practice")
    assert groups_on(page) == {"needs": ["Ansgar Tolle"], "new": ["Isaura Linde"]}
    assert "Flared twice in seven days, last on Sunday." in hedda.text
    assert "Training" not in hedda.text


def test_the_row_tells_area_arm_day_and_rung_and_its_step_leads_to_the_findings(site, hedda):
    site.begin(site.founder, days_of(FIRST_DAY, flares()))
    hedda.open("/practice")
    assert "right outer elbow, day 8" in hedda.text
    assert re.search(r"rung \d+ of \d+", hedda.text)
    step = re.search(r'class="button" href="([^"]+)"', hedda.page.text).group(1)
    address, _, anchor = step.partition("#")
    assert f'id="{anchor}"' in hedda.open(address).text


def test_a_held_arm_stands_before_all_others_and_its_step_is_the_release(site, hedda):
    hold_cellist(site)
    site.begin(site.founder, days_of(FIRST_DAY, flares()))
    page = hedda.open("/practice")
    assert groups_on(page)["needs"] == ["Isaura Linde", "Ansgar Tolle"]
    assert "Since yesterday." in hedda.text
    assert f'/practice/cases/{site.cellist.public_id}#hold-left">Release' in page.text


def test_who_is_well_is_on_their_way_with_how_it_goes(site, hedda):
    site.begin(site.founder, days_of(FIRST_DAY, SETTLED))
    page = hedda.open("/practice")
    assert groups_on(page)["way"] == ["Ansgar Tolle"]
    assert "Settled for 7 days." in hedda.text


def test_a_letter_needs_you_until_it_is_read(site, hedda):
    site.begin(
        site.founder,
        [*days_of(FIRST_DAY, SETTLED), event("letter_written", date(2026, 3, 9), {"text": "Hello"}, seq=60)],
    )
    hedda.open("/practice")
    assert "1 letter waits for you. Since today." in hedda.text
    assert lines_of(site)["Ansgar Tolle"].group == "needs"


def test_two_clients_of_one_name_are_told_apart(site, hedda):
    enrol(site.db, site.hedda.id, replace(BELL_FOUNDER, public_id="ansgar0002"))
    hedda.open("/practice")
    numbers = re.findall(r"number (\d+), added", hedda.text)
    assert len(set(numbers)) == len(numbers) == 2
    assert not lines_of(site)["Isaura Linde"].has_twin


def test_the_text_of_a_strip_says_what_its_drawing_shows(site, hedda):
    site.begin(site.founder, days_of(FIRST_DAY, flares()))
    hedda.open("/practice")
    said = re.search(r'role="img" aria-label="([^"]+)"', hedda.page.text).group(1)
    assert said == (
        "28 days: mornings told: 7, the highest 2 of 10; days with a session: 7, of rest: 1, held: 0, with sport: 0."
    )


@pytest.mark.parametrize(("query", "is_found"), [("name=TÓLLE", True), ("name=linde", False), ("group=needs", True),
                                              ("group=way", False), ("cause=flared-twice", True), ("cause=silent", False),
                                              ("area=outer_elbow", True), ("area=wrist", False), ("arm=right", True),
                                              ("arm=left", False), ("seen=no", True), ("seen=yes", False),
                                              ("group=nonsense&cause=%00&name=", True)])  # fmt: skip
def test_a_search_and_each_filter_stand_in_the_address(site, hedda, query, is_found):
    site.begin(site.founder, days_of(FIRST_DAY, flares()))
    hedda.open(f"/practice?{query}")
    assert ("Ansgar Tolle" in hedda.text) == is_found


def test_a_search_that_finds_nobody_says_so_and_offers_the_way_back(hedda):
    hedda.open("/practice?name=nobody of that name")
    assert "Nobody fits what you look for." in hedda.text
    assert "Show everybody" in hedda.text


def test_of_many_clients_the_first_of_each_group_are_shown_and_the_rest_is_a_tap_away(site, hedda):
    for number in range(40):
        cases.add(
            site.db, site.hedda.id, f"many{number:06}", f"Many {number:02}", "en", {"by_client": True}, site.clock()
        )
    renew_rows(site.app, lambda _: False)
    page = hedda.open("/practice")
    assert len(groups_on(page)["new"]) == 4
    assert "Show all 42" in hedda.text
    assert len(groups_on(hedda.open("/practice?group=new"))["new"]) == 42


def test_of_a_group_of_hundreds_the_first_hundred_are_shown_and_the_others_are_found_by_name(site, hedda):
    for number in range(120):
        cases.add(
            site.db, site.hedda.id, f"many{number:06}", f"Many {number:03}", "en", {"by_client": True}, site.clock()
        )
    # One look reads logs for half a second only, which a busy machine may spend on fewer clients.
    renew_rows(site.app, lambda _: False)
    assert len(groups_on(hedda.open("/practice?group=new"))["new"]) == MOST
    assert "These are the first 100 of 122." in hedda.text
    assert groups_on(hedda.open("/practice?group=new&name=many 119"))["new"] == ["Many 119"]


def test_a_version_that_has_not_arrived_after_two_days_needs_you(site, hedda):
    site.begin(site.founder, days_of(FIRST_DAY, SETTLED))
    site.db.execute("UPDATE routine_versions SET received_at = NULL, pushed_at = ? WHERE client = ?",
                    ((site.clock() - timedelta(days=3)).isoformat(), site.founder.id))  # fmt: skip
    site.db.conn.commit()
    hedda.open("/practice")
    assert "The newest version has not arrived. Since Friday." in hedda.text
