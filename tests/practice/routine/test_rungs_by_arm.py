"""The practitioner chooses a rung for one arm: its before and after, its own tick, its own reason; the other arm stays."""

import json
from dataclasses import replace

import pytest

from tests import builders
from tests.cast import BELL_FOUNDER, BOOKBINDER, FIRST_DAY, HEDDA
from webapp.records import routines
from webapp.sync.folding.fold import accounts_of

TODAY = builders.date(2026, 3, 9)
ARMS = ("right", "left")
CALM = [(1, 1)] * 7
WHY = "You lifted more before."
BOTH = replace(BOOKBINDER, usual=2, weights=BELL_FOUNDER.weights)


@pytest.fixture
def bookbinder(site):
    """The bookbinder with both arms in training, after a calm first week."""
    client = builders.enrol(site.db, site.hedda.id, BOTH)
    site.begin(client, builders.days_of(FIRST_DAY, CALM, arms=ARMS))
    return client


def _desk(client):
    return f"/practice/cases/{client.public_id}/routine"


def _preview(hedda, client, **changes):
    hedda.open(_desk(client))
    return hedda.fill("/routine", {"step": "preview", **changes}, post_to=_desk(client))


def _push(hedda, client, **changes):
    return hedda.fill("/routine", {"step": "push", **changes}, post_to=_desk(client))


def _receive(site, client, on=TODAY):
    site.receive(client, [builders.event("routine_received", on, {"version": 2, "bundle": ""}, seq=901)])


def _accounts(site, client, on=TODAY):
    return accounts_of(site.db, client.id, on)


def test_the_arm_that_is_given_a_rung_moves_and_the_other_keeps_rung_and_count(site, hedda, bookbinder):
    before = _accounts(site, bookbinder)
    _preview(hedda, bookbinder, start_rung_left="1")
    rung = before["left"].state.rung
    assert rung > 1
    assert f"Right arm: on rung {rung} today; carries on at rung {rung}" in hedda.text
    assert f"Left arm: on rung {rung} today; begins this version on rung 1, which you set." in hedda.text
    _push(hedda, bookbinder)
    assert routines.latest(site.db, bookbinder.id).settings["start_rungs"] == {"left": 1}
    _receive(site, bookbinder)
    after = _accounts(site, bookbinder)
    assert after["right"].state == before["right"].state
    assert after["right"].reasons == before["right"].reasons
    assert (after["left"].state.rung, after["left"].reasons) == (1, ("own-hand",))


def test_each_rise_asks_for_the_tick_of_its_own_arm(site, hedda, bookbinder):
    _preview(hedda, bookbinder, start_rung_right="8", start_rung_left="9", note=WHY)
    assert _push(hedda, bookbinder, rises_taken_on=["right"]).status_code == 409
    assert "it raises the work of the left arm by more than one step may" in hedda.text
    assert "of the right arm by more" not in hedda.text
    _push(hedda, bookbinder, rises_taken_on=["right", "left"])
    assert routines.latest(site.db, bookbinder.id).settings["start_rungs"] == {"right": 8, "left": 9}


def test_a_flare_of_one_arm_bars_a_rise_of_that_arm_alone(site, hedda, bookbinder):
    site.receive(bookbinder, [builders.session(builders.date(2026, 3, 8), 7, arms=("left",), seq=70)])
    assert _preview(hedda, bookbinder, start_rung_left="8").status_code == 400
    assert "asks more than today of the left arm, which stopped or flared on Sun 8 Mar 2026." in hedda.text
    hedda.open(_desk(bookbinder))
    assert (
        "This arm stopped or flared on Sun 8 Mar 2026. You can set more than today again from Mon 16 Mar 2026."
        in hedda.text
    )
    assert _preview(hedda, bookbinder, start_rung_right="8").status_code == 200


def test_a_hold_of_one_arm_locks_its_field_alone(site, hedda, bookbinder):
    site.receive(bookbinder, [builders.session(builders.date(2026, 3, 8), 9, arms=("left",), sharp=True, seq=70)])
    hedda.open(_desk(bookbinder))
    sent = hedda.form("/routine")
    assert ("start_rung_right" in sent, "start_rung_left" in sent) == (True, False)
    assert _preview(hedda, bookbinder, start_rung_left="1").status_code == 400
    assert "Rung, left arm: the left arm is held, so you cannot set a rung here." in hedda.text
    assert _preview(hedda, bookbinder, start_rung_right="1").status_code == 200


def test_a_push_that_comes_to_the_phone_after_a_flare_raises_nothing_and_the_case_page_says_so(site, hedda, bookbinder):
    before = _accounts(site, bookbinder)["left"].state
    _preview(hedda, bookbinder, start_rung_left="8", start_rung_right="8", note=WHY)
    _push(hedda, bookbinder, rises_taken_on=list(ARMS))
    flare = builders.session(TODAY, 7, arms=("left",), seq=70)
    tomorrow = builders.date(2026, 3, 10)
    site.receive(bookbinder, [flare, builders.session(TODAY, 1, arms=("right",), seq=71)])
    _receive(site, bookbinder, tomorrow)
    after = _accounts(site, bookbinder, tomorrow)
    assert (after["left"].state.rung, after["right"].state.rung) == (before.rung, 8)
    assert (after["left"].reasons, after["right"].reasons) == (("rest-and-ease", "hand-too-soon"), ("own-hand",))
    site.clock.pass_by(days=1)
    later = site.visitor()
    later.sign_in(HEDDA.email, HEDDA.password)
    for page in ("", "/account"):
        later.open(f"/practice/cases/{bookbinder.public_id}{page}")
        assert "Rung 8, which you set with version 2, did not count." in later.text
        assert (
            "The phone received it on Tue 10 Mar 2026, but this arm stopped or flared on Mon 9 Mar 2026." in later.text
        )
        assert "You can set a higher rung again from Tue 17 Mar 2026." in later.text


def test_each_arm_begins_a_first_version_where_the_intake_put_it(site, hedda, bookbinder):
    site.db.execute("DELETE FROM routine_versions WHERE client = ?", [bookbinder.id])
    site.db.execute("DELETE FROM events WHERE client = ?", [bookbinder.id])
    intake = BOTH.intake | {"start_rungs": {"right": 1, "left": 5}}
    site.db.execute("UPDATE clients SET intake = ? WHERE id = ?", [json.dumps(intake), bookbinder.id])
    site.db.conn.commit()
    _preview(hedda, bookbinder)
    assert "Right arm: begins on rung 1 of" in hedda.text
    assert "Left arm: begins on rung 5 of" in hedda.text
    _push(hedda, bookbinder)
    site.receive(bookbinder, [builders.event("routine_received", TODAY, {"version": 1, "bundle": ""}, seq=902)])
    assert {arm: account.state.rung for arm, account in _accounts(site, bookbinder).items()} == {"right": 1, "left": 5}
