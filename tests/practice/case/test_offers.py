"""An offer of the review on the case page: what it shows, taking it up, and when it no longer stands."""

import pytest

from tests import builders
from tests.cast import FIRST_DAY as FIRST
from tests.cast import HEDDA
from tests.practice.conftest import hold_cellist
from webapp.records import routines

PATH = "/practice/cases/ansgar0001"
DAYS = 14
ACHING = [(4, 1)] * DAYS
TOO_LOW = [(1, 2), *[(1, 3)] * (DAYS - 1)]


def _signed_in(site):
    visitor = site.visitor()
    visitor.sign_in(HEDDA.email, HEDDA.password)
    return visitor


def _lived(site, reports):
    """Send the founder's reports, one for each day; return Hedda, signed in on the morning after the last day."""
    site.begin(site.founder, builders.days_of(FIRST, reports))
    site.clock.pass_by(days=len(reports) - 7)
    return _signed_in(site)


def _take_up(hedda, **changes):
    hedda.open(PATH)
    return hedda.fill("/offer", changes, post_to=f"{PATH}/offer")


def _newest(site):
    return routines.latest(site.db, site.founder.id)


def test_the_page_shows_what_the_last_days_would_have_been(site):
    hedda = _lived(site, ACHING)
    page = hedda.open(PATH).text
    assert "No climb for 14 days: sessions are rated over 3." in hedda.text
    assert "Settled in the last 14 days: 0 as it was, 14 with 4 instead of 3." in hedda.text
    assert page.count('<td class="changed">') == DAYS
    assert "a aching · s settled" in hedda.text


def test_taking_up_an_offer_pushes_the_same_routine_with_the_one_value_changed(site):
    hedda = _lived(site, ACHING)
    before = _newest(site)
    _take_up(hedda)
    assert "Version 2 is on its way" in hedda.text
    after = _newest(site)
    assert after.version == 2
    assert after.routine == {**before.routine, "tuning": {**before.routine.get("tuning", {}), "settled_during": 4}}
    assert after.settings == before.settings
    assert after.note.startswith("Up to 4 of 10 in a session now counts as a good day for you")


def test_a_higher_usual_is_pushed_in_the_settings(site):
    hedda = _lived(site, TOO_LOW)
    before = _newest(site)
    _take_up(hedda)
    after = _newest(site)
    assert after.routine == before.routine
    assert after.settings == {**before.settings, "usual": 3}


def test_an_arm_that_the_version_eased_is_not_eased_again(site):
    first = _newest(site)
    settings = {**first.settings, "start_rungs": {}, "eases": {"right": 1}}
    routines.push(site.db, site.founder.id, first.routine, settings, "", site.hedda.id, site.clock())
    received = builders.event("routine_received", FIRST, {"version": 2, "bundle": ""}, seq=950)
    site.receive(site.founder, [received])
    _take_up(_lived(site, ACHING))
    assert (_newest(site).version, _newest(site).settings.get("eases", {})) == (3, {})


def test_a_rung_that_the_version_began_on_is_not_begun_on_again(site):
    first = _newest(site)
    routines.push(
        site.db,
        site.founder.id,
        first.routine,
        {**first.settings, "start_rungs": {"right": 6}},
        "",
        site.hedda.id,
        site.clock(),
    )
    site.receive(site.founder, [builders.event("routine_received", FIRST, {"version": 2, "bundle": ""}, seq=901)])
    hedda = _lived(site, ACHING)
    _take_up(hedda)
    assert _newest(site).version == 3
    assert _newest(site).settings["start_rungs"] == {}


def test_the_reason_can_be_put_in_other_words(site):
    hedda = _lived(site, ACHING)
    _take_up(hedda, **{"right-offer-note": "As we agreed on the telephone."})
    assert _newest(site).note == "As we agreed on the telephone."


def test_nothing_is_pushed_without_a_reason(site):
    hedda = _lived(site, ACHING)
    assert _take_up(hedda, **{"right-offer-note": " "}).status_code == 400
    assert "this is needed" in hedda.text
    assert _newest(site).version == 1


def test_nothing_is_pushed_without_the_forms_token(site):
    hedda = _lived(site, ACHING)
    token = next(name for name in hedda.open(PATH) and hedda.form("/offer") if name.endswith("csrf_token"))
    assert _take_up(hedda, **{token: ""}).status_code == 400
    assert _newest(site).version == 1


def test_an_offer_is_refused_once_the_log_has_changed(site):
    hedda = _lived(site, ACHING)
    hedda.open(PATH)
    sent = hedda.form("/offer").to_dict()
    site.receive(site.founder, [builders.session(FIRST, 6, seq=800)])
    hedda.send(f"{PATH}/offer", sent, follow=True)
    assert "This offer has changed" in hedda.text
    assert _newest(site).version == 1


def test_a_button_that_is_pressed_twice_pushes_once(site):
    hedda = _lived(site, ACHING)
    hedda.open(PATH)
    sent = hedda.form("/offer").to_dict()
    hedda.send(f"{PATH}/offer", sent, follow=True)
    hedda.send(f"{PATH}/offer", sent, follow=True)
    assert "Version 2 is on its way." in hedda.text
    assert _newest(site).version == 2


def test_nothing_is_offered_for_four_weeks_after_a_change_was_received(site):
    hedda = _lived(site, ACHING)
    _take_up(hedda)
    received = FIRST + builders.timedelta(days=DAYS)
    site.receive(site.founder, [builders.event("routine_received", received, {"version": 2, "bundle": ""}, seq=902)])
    again = [(5, 1)] * 27
    days = builders.days_of(received, again)
    site.receive(site.founder, [{**event, "id": builders.uuid7(1000 + number)} for number, event in enumerate(days)])
    site.clock.pass_by(days=27)
    hedda = _signed_in(site)
    assert "sessions are rated over 4" in hedda.open(PATH).text
    assert "right-offer-note" not in hedda.page.text
    site.clock.pass_by(days=1)
    hedda = _signed_in(site)
    assert "right-offer-note" in hedda.open(PATH).text


def test_a_usual_of_four_is_no_button_but_a_way_to_the_routine_desk(site):
    first = _newest(site)
    routines.push(
        site.db, site.founder.id, first.routine, {**first.settings, "usual": 3}, "", site.hedda.id, site.clock()
    )
    site.receive(site.founder, [builders.event("routine_received", FIRST, {"version": 2, "bundle": ""}, seq=901)])
    hedda = _lived(site, [(1, 3), *[(1, 4)] * (DAYS - 1)])
    hedda.open(PATH)
    assert "only once a clinician has seen the arm" in hedda.text
    assert 'action="/practice/cases/ansgar0001/offer"' not in hedda.page.text


def test_a_ceiling_of_five_asks_for_a_reason_in_the_practitioners_own_words(site):
    first = _newest(site)
    routine = {**first.routine, "tuning": {**first.routine["tuning"], "settled_during": 4}}
    routines.push(site.db, site.founder.id, routine, first.settings, "", site.hedda.id, site.clock())
    site.receive(site.founder, [builders.event("routine_received", FIRST, {"version": 2, "bundle": ""}, seq=901)])
    hedda = _lived(site, [(5, 1)] * DAYS)
    assert _take_up(hedda).status_code == 400
    assert _newest(site).version == 2
    hedda.fill("/offer", {"right-offer-note": "Seen in the clinic; an ache of 5 is fine."}, post_to=f"{PATH}/offer")
    assert _newest(site).routine["tuning"]["settled_during"] == 5


@pytest.mark.parametrize("entries", [{}, {"left-offer-seen": "x", "left-offer-note": "x"}])
def test_a_form_that_no_page_has_shown_pushes_nothing(site, entries):
    hedda = _lived(site, ACHING)
    hedda.send(f"{PATH}/offer", entries)
    assert _newest(site).version == 1


def test_another_practitioners_client_cannot_be_pushed_to(hedda):
    assert hedda.send("/practice/cases/livia00001/offer", {}).status_code == 404


def test_a_held_arm_is_named_and_offered_nothing(site, hedda):
    hold_cellist(site)
    hedda.open("/practice/cases/isaura0001")
    assert "Sharp pain or a warning sign was reported, and the arm is held." in hedda.text
    assert "right-offer-note" not in hedda.page.text


def test_a_finding_says_when_it_was_there_before(site, hedda):
    missing = [(1, None)] * 3
    site.begin(site.founder, builders.days_of(FIRST, [*missing, (1, 1), *missing]))
    hedda.open(f"/practice/cases/{site.founder.public_id}")
    assert "Was there 1 time before, in half a year" in hedda.text
    assert "Thu 5 Mar 2026, one day" in hedda.text
