"""What a release requires, what it writes to the log, and where the page shows it afterwards."""

import json
from datetime import date
from hashlib import sha256

import pytest

from tests import builders
from tests.cast import HEDDA
from tests.practice.case.test_hold import ENTRIES, PATH, REASON
from tests.practice.conftest import hold_cellist
from webapp.records import events, practitioners

TODAY = date(2026, 3, 9)
SEEN = {"left-seen_by": "physiotherapist", "left-seen_on": "2026-03-09"}
ASKED = "Who has seen the arm"


def _sign(sign, on=TODAY, seq=70):
    return builders.event("warning_raised", on, {"sign": sign, "arms": ["left"]}, seq=seq)


def _stop(on, seq):
    return builders.session(on, 2, arms=("left",), sharp=True, seq=seq)


def _page(hedda, path):
    hedda.open(path)
    return hedda.text


def _release(hedda, **changes):
    hedda.open(PATH)
    entries = hedda.form("/release").to_dict() | ENTRIES | changes
    return hedda.send(f"{PATH}/release", entries, follow=True)


def _days_later(site, days):
    """Let days pass; return Hedda, signed in again, since a sign-in ends within days."""
    site.clock.pass_by(days=days)
    visitor, token = site.visitor(), f"hedda-{days}-days-later"
    practitioners.begin_sign_in(site.db, site.hedda.id, sha256(token.encode()).hexdigest(), site.clock(), site.clock())
    visitor.client.set_cookie("halfturn_practice", token, domain="127.0.0.1")
    return visitor


def _said(site):
    written = events.latest_of(site.db, site.cellist.id, ["hold_released"], 5)
    return [(event.on_day, json.loads(event.raw)["body"]["arms"]["left"]) for event in written]


@pytest.mark.parametrize("sign", ["cold_hand", "hot_swollen", "unnamed", "a_sign_of_another_year"])
def test_after_a_sign_that_had_to_be_seen_the_release_names_who_has_seen_the_arm(site, hedda, sign):
    hold_cellist(site)
    site.receive(site.cellist, [_sign(sign)])
    assert ASKED in _page(hedda, PATH)
    assert _release(hedda).status_code == 400
    assert f"{ASKED}: this is needed" in hedda.text
    assert "On which day: this is needed" in hedda.text
    assert not _said(site)
    _release(hedda, **SEEN)
    [(_, said)] = _said(site)
    assert said["seen_by"] == {"role": "physiotherapist", "on": "2026-03-09"}
    assert "Seen by a physiotherapist on Mon 9 Mar 2026." in _page(hedda, PATH)


@pytest.mark.parametrize("day", ["2026-03-07", "2026-03-10", "soon"])
def test_the_arm_cannot_have_been_seen_before_the_report_or_after_today(site, hedda, day):
    hold_cellist(site)
    site.receive(site.cellist, [_sign("cold_hand", date(2026, 3, 8))])
    assert _release(hedda, **SEEN | {"left-seen_on": day}).status_code == 400
    assert f'On which day: "{day}" is not a day from Sun 8 Mar 2026 to Mon 9 Mar 2026.' in hedda.text
    assert not _said(site)


def test_a_first_stop_and_a_milder_sign_ask_for_nobody(site, hedda):
    hold_cellist(site)
    site.receive(site.cellist, [_sign("new_tingling")])
    assert ASKED not in _page(hedda, PATH)
    _release(hedda)
    assert "seen_by" not in _said(site)[0][1]


@pytest.mark.parametrize(("passed", "is_asked"), [(1, True), (28, True), (29, False)])
def test_a_second_stop_within_28_days_asks_who_has_seen_the_arm(site, hedda, passed, is_asked):
    hold_cellist(site)
    _release(hedda)
    again = date.fromordinal(date(2026, 3, 8).toordinal() + passed)
    hedda = _days_later(site, passed)
    site.receive(site.cellist, [_stop(again, 80)])
    assert (ASKED in _page(hedda, PATH)) == is_asked
    assert (_release(hedda).status_code == 400) == is_asked
    assert len(_said(site)) == (1 if is_asked else 2)


def test_a_stop_of_today_is_released_from_tomorrow_and_the_page_says_so_before_and_after(site, hedda):
    hold_cellist(site)
    site.receive(site.cellist, [_stop(TODAY, 71)])
    assert "The release counts from tomorrow, Tue 10 Mar 2026" in _page(hedda, PATH)
    assert "Talk to the client today" in hedda.text
    _release(hedda, **{"left-chosen": "1@0.75"})
    assert "The hold is released: the arm starts on rung 1 on Tue 10 Mar 2026." in hedda.text
    assert [on for on, _ in _said(site)] == ["2026-03-10"]
    assert "Released, starts from tomorrow, Tue 10 Mar 2026." in hedda.text
    assert "Talk to the client today" not in hedda.text
    assert "/release" not in hedda.open(PATH).text
    assert "Training" in _page(_days_later(site, 1), PATH)


def test_a_stop_of_the_very_first_hour_of_today_can_be_released_from_tomorrow(site, hedda):
    site.begin(site.cellist, [*builders.days_of(date(2026, 3, 2), [(1, 1)] * 7, arms=("left",)), _stop(TODAY, 71)])
    assert _release(hedda, **{"left-chosen": "1@0.5"}).status_code == 200
    assert [on for on, _ in _said(site)] == ["2026-03-10"]


def test_a_report_after_the_release_ends_it_and_both_pages_say_so(site, hedda):
    hold_cellist(site)
    site.receive(site.cellist, [_stop(TODAY, 71)])
    _release(hedda)
    site.receive(site.cellist, [_sign("new_tingling", seq=72)])
    assert "Talk to the client today" in _page(hedda, PATH)
    for page in (PATH, f"{PATH}/account"):
        assert "It does not count: another sharp report came in." in _page(hedda, page)


def test_the_case_and_the_account_name_each_release(site, hedda):
    hold_cellist(site)
    _release(hedda)
    for page in (PATH, f"{PATH}/account"):
        text = _page(hedda, page)
        assert (
            "Left arm: from rung 3, the whole range, to rung 1, half of the range; counts from today, Mon 9 Mar 2026."
            in text
        )
        assert f"Released by {HEDDA.name}, Mon 9 Mar 2026, 09:30, Lisbon time." in text
        assert REASON in text
