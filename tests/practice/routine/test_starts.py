"""The routine desk starts from an earlier version, the starter or another client's routine; nothing is pushed by that."""

import pytest

from tests import builders
from tests.cast import FIRST_DAY
from webapp.records import routines
from webapp.sync.folding.fold import accounts_of

DESK = "/practice/cases/ansgar0001/routine"


def _push(hedda, desk=DESK, **changes):
    hedda.open(desk)
    hedda.fill("/routine", {"step": "preview", **changes}, post_to=desk)
    return hedda.fill("/routine", {"step": "push"}, post_to=desk)


def _versions(site):
    return routines.of_client(site.db, site.founder.id)


def test_an_older_version_comes_back_as_a_new_one_with_what_the_client_had_then(site, hedda):
    _push(hedda, goal_reps="15", weights="2 lb", usual="3", title="Steadier")
    first = _versions(site)[1]
    hedda.open(f"{DESK}?start=version-1")
    assert "Most reps from 15 to 20" in hedda.text
    assert "Push version 3" in hedda.text
    hedda.fill("start=version-1", {"step": "push"}, post_to=f"{DESK}?start=version-1")
    third = _versions(site)[0]
    assert (third.version, third.routine["title"], third.settings["usual"]) == (3, first.routine["title"], 2)
    assert first.routine["tuning"].items() <= third.routine["tuning"].items()
    assert third.settings["weights_kg"] == first.settings["weights_kg"]
    assert _versions(site)[2] == first, "the old version stays as it was"


def test_the_case_page_offers_to_go_back_to_every_older_version(hedda):
    _push(hedda, goal_reps="15")
    assert "Go back to version 1" in hedda.text
    assert "Go back to version 2" not in hedda.text


def test_the_routine_of_another_client_fills_the_form_but_not_what_belongs_to_that_client(site, hedda):
    _push(hedda, goal_reps="15", title="Steadier")
    other = "/practice/cases/isaura0001/routine"
    before = routines.latest(site.db, site.cellist.id)
    hedda.open(f"{other}?start=client-ansgar0001")
    entries = hedda.form("start=client-ansgar0001")
    assert (entries["title"], entries["goal_reps"], entries["area"]) == ("Steadier", "15", "inner_elbow")
    assert (entries["usual"], entries["weights"]) == (str(before.settings["usual"]), "0.5 kg")
    assert routines.latest(site.db, site.cellist.id) == before


def test_the_starter_of_the_area_fills_the_form(hedda):
    _push(hedda, goal_reps="15")
    hedda.open(f"{DESK}?start=starter")
    assert hedda.form("start=starter")["goal_reps"] == "20"


@pytest.mark.parametrize(
    "start", ["version-9", "version-x", "client-livia00001", "client-nobody", "somersault", "version-1-1"]
)
def test_what_the_practitioner_does_not_have_is_not_found(hedda, start):
    assert hedda.open(f"{DESK}?start={start}").status_code == 404


def test_a_rehearsal_opens_at_the_dose_of_today(site, hedda):
    site.begin(site.founder, builders.days_of(FIRST_DAY, [*[(2, 1)] * 6, (7, 1)]))
    state = accounts_of(site.db, site.founder.id, builders.date(2026, 3, 9))["right"].state
    assert state.ease == 1, "the flare of yesterday eased the arm"
    hedda.open("/practice/cases/ansgar0001/rehearsal/1")
    assert f'<option value="{state.rung}" selected>' in hedda.page.text
    assert '<option value="1" selected>Three quarters' in hedda.page.text


@pytest.mark.parametrize("number", ["9", "9223372036854775808", "9" * 5000, "1 ", "-1", ""])
def test_a_version_that_the_client_has_not_is_not_found_whatever_its_number(hedda, number):
    assert hedda.open(f"{DESK}?start=version-{number}").status_code == 404
