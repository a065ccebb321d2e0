"""The effects of a push on a client today: each arm before and after, rises that need a tick, holds that stay."""

import pytest

from tests import builders
from tests.cast import FIRST_DAY, HEDDA
from tests.practice.conftest import hold_cellist
from webapp.dosing.dose import dose
from webapp.dosing.responses import RESPONSES
from webapp.practice.routine.effects import AskedWork, Effect
from webapp.records import routines
from webapp.sync.folding.anchors import anchors_of
from webapp.sync.folding.fold import accounts_of

DESK = "/practice/cases/ansgar0001/routine"
TODAY = builders.date(2026, 3, 9)
CALM_WEEK = [(2, 1)] * 7
FLARED_YESTERDAY = [*[(2, 1)] * 6, (7, 1)]


def _preview(hedda, desk=DESK, **changes):
    hedda.open(desk)
    return hedda.fill("/routine", {"step": "preview", **changes}, post_to=desk)


def _push(hedda, desk=DESK, **changes):
    return hedda.fill("/routine", {"step": "push", **changes}, post_to=desk)


def _versions(site, client=None):
    return [version.version for version in routines.of_client(site.db, (client or site.founder).id)]


def _asked(load_kg, work_j):
    return AskedWork(1, 0, 1, 8, 5, load_kg, 1, work_j)


def _row(account):
    today_dose = dose(account.plan, account.state)
    reps, side_reps = today_dose.sets[0].reps, today_dose.sets[2].reps
    return f"{account.state.rung} {reps} ({side_reps}) no weight the whole range {round(today_dose.work_j, 1):g} J"


def _stands_and_why(site, version):
    anchor = anchors_of(site.db, site.founder.id, TODAY, version)["right"]
    calm = [why for response, why in zip(RESPONSES, anchor.why, strict=True) if response != "sharp"]
    return accounts_of(site.db, site.founder.id, TODAY)["right"].state, calm


def _receive_second_version(site, client):
    site.receive(client, [builders.event("routine_received", TODAY, {"version": 2, "bundle": ""}, seq=901)])


def test_the_dose_shown_before_and_after_is_what_the_phone_asks_before_and_after(site, hedda):
    site.begin(site.founder, builders.days_of(FIRST_DAY, CALM_WEEK))
    before = accounts_of(site.db, site.founder.id, TODAY)["right"]
    _preview(hedda, start_rung_right="1")
    said = hedda.text
    _push(hedda)
    _receive_second_version(site, site.founder)
    after = accounts_of(site.db, site.founder.id, TODAY)["right"]
    assert f"Today {_row(before)} Version 2 {_row(after)}" in said
    fall = round((1 - dose(after.plan, after.state).work_j / dose(before.plan, before.state).work_j) * 100)
    assert fall > 0
    assert f"The work of a day falls by {fall} per cent." in said
    assert "I accept this rise" not in said


def test_a_rise_over_the_cap_is_pushed_only_with_its_own_tick(site, hedda):
    site.begin(site.founder, builders.days_of(FIRST_DAY, CALM_WEEK))
    _preview(hedda, start_rung_right="8", note="You lifted more before.")
    assert "I accept this rise of the right arm as it is. The client reads that you chose it." in hedda.text
    answer = _push(hedda)
    assert answer.status_code == 409
    assert "it raises the work of the right arm by more than one step may" in hedda.text
    assert _versions(site) == [1]
    _push(hedda, rises_taken_on=["right"])
    assert _versions(site) == [2, 1]


def test_a_rise_by_hand_is_pushed_only_with_a_reason_that_the_client_reads(site, hedda):
    site.begin(site.founder, builders.days_of(FIRST_DAY, CALM_WEEK))
    _preview(hedda, start_rung_right="4")
    assert _push(hedda, rises_taken_on=["right"]).status_code == 400
    assert "you raise an arm by hand. Write in the note why; the client reads it." in hedda.text
    assert _versions(site) == [1]
    hedda.fill("/routine", {"step": "preview", "note": "You lifted more before."}, post_to=DESK)
    _push(hedda, rises_taken_on=["right"])
    assert _versions(site) == [2, 1]


@pytest.mark.parametrize(
    ("after", "is_over"),
    [(_asked(0, 12.5), False), (_asked(0, 12.6), True), (_asked(0, 8.0), False)],
)
def test_only_more_than_one_step_of_work_is_over_the_cap(after, is_over):
    assert (
        Effect(
            "right", "training", _asked(0, 10.0), after, is_chosen=True, keeps_counts=False, cap=0.25, troubled_on=None
        ).is_over_cap
        is is_over
    )


def test_a_heavier_weight_may_add_a_tenth_at_most(site, hedda):
    site.begin(site.founder, builders.days_of(FIRST_DAY, CALM_WEEK))
    ladder = accounts_of(site.db, site.founder.id, TODAY)["right"].plan.ladder
    heavier = next(rung.number for rung in ladder.rungs if rung.load_kg > 0)
    _preview(hedda, start_rung_right=str(heavier))
    assert "With a heavier weight one step adds at most 10 per cent." in hedda.text
    assert "The weight is heavier." in hedda.text


def test_no_rise_by_hand_is_offered_after_a_flare_of_yesterday(site, hedda):
    site.begin(site.founder, builders.days_of(FIRST_DAY, FLARED_YESTERDAY))
    answer = _preview(hedda, start_rung_right="8")
    assert answer.status_code == 400
    assert "asks more than today of the right arm, which stopped or flared on Sun 8 Mar 2026." in hedda.text
    assert "You can set a higher rung again from Mon 16 Mar 2026" in hedda.text


@pytest.mark.parametrize(("days_later", "status"), [(7, 400), (8, 200)])
def test_a_rise_by_hand_is_offered_again_once_seven_days_have_passed_since_a_flare(site, days_later, status):
    site.begin(site.founder, builders.days_of(FIRST_DAY, FLARED_YESTERDAY))
    site.clock.pass_by(days=days_later - 1)
    visitor = site.visitor()
    visitor.sign_in(HEDDA.email, HEDDA.password)
    assert _preview(visitor, start_rung_right="8").status_code == status


def test_no_rise_by_hand_is_offered_on_the_day_of_a_stop(site, hedda):
    stopped = builders.session(TODAY, 9, sharp=True, seq=70)
    site.begin(site.founder, [*builders.days_of(FIRST_DAY, CALM_WEEK), stopped])
    assert _preview(hedda, start_rung_right="8").status_code == 400
    assert "the right arm is held, so you cannot set a rung here." in hedda.text
    assert "Locked: the arm is held." in hedda.text


def test_less_by_hand_is_offered_after_a_flare(site, hedda):
    site.begin(site.founder, builders.days_of(FIRST_DAY, FLARED_YESTERDAY))
    assert _preview(hedda, start_rung_right="1").status_code == 200
    assert "Rest goes on." in hedda.text


def test_a_held_arm_is_said_to_stay_held_and_is_given_no_rung(site, hedda):
    hold_cellist(site)
    desk = f"/practice/cases/{site.cellist.public_id}/routine"
    hedda.open(desk)
    assert "Locked: the arm is held. You choose where it starts again when you release it." in hedda.text
    assert "start_rung_left" not in hedda.form("/routine")
    assert _preview(hedda, desk, start_rung_left="1").status_code == 400
    assert _preview(hedda, desk, goal_reps="15").status_code == 200
    assert "Stays held: a push never ends a hold, and never raises a held arm." in hedda.text
    assert "The work of a day rises" not in hedda.text


def test_what_the_client_enters_after_the_preview_is_shown_before_the_push(site, hedda):
    site.begin(site.founder, builders.days_of(FIRST_DAY, CALM_WEEK))
    _preview(hedda, goal_reps="15")
    site.receive(site.founder, [builders.session(TODAY, 9, sharp=True, seq=70)])
    answer = _push(hedda)
    assert answer.status_code == 409
    assert "new entries of the client change what this version does" in hedda.text
    assert _versions(site) == [1]
    _push(hedda)
    assert _versions(site) == [2, 1]


def test_a_note_alone_can_be_pushed_and_is_said_to_be_so(site, hedda):
    site.begin(site.founder, builders.days_of(FIRST_DAY, CALM_WEEK))
    _preview(hedda, note="Slowly down.")
    assert "Only the note : nothing else changes." in hedda.text
    assert "The client reads: Slowly down." in hedda.text
    assert "The settled days counted so far stay." in hedda.text
    _push(hedda)
    assert routines.latest(site.db, site.founder.id).note == "Slowly down."


def test_a_note_alone_changes_neither_dose_nor_counts_nor_reason(site, hedda):
    site.begin(site.founder, builders.days_of(FIRST_DAY, CALM_WEEK))
    before, why = _stands_and_why(site, 1)
    assert before.settled_streak > 0
    _preview(hedda, note="Slowly down.")
    _push(hedda)
    assert _stands_and_why(site, 2)[1] == why
    _receive_second_version(site, site.founder)
    assert _stands_and_why(site, 2) == (before, why)


def test_another_goal_begins_the_count_of_settled_days_again(site, hedda):
    site.begin(site.founder, builders.days_of(FIRST_DAY, CALM_WEEK))
    _preview(hedda, goal_reps="15")
    assert "With this version, settled days are counted from the start again." in hedda.text
    _push(hedda)
    _receive_second_version(site, site.founder)
    state, why = _stands_and_why(site, 2)
    assert state.settled_streak == 0
    # An arm that already rests keeps the reasons of that rest.
    assert {reasons[-1] for reasons in why} == {"carried-over"}


def test_a_rung_given_by_hand_is_not_called_no_change(site, hedda):
    site.begin(site.founder, builders.days_of(FIRST_DAY, CALM_WEEK))
    _preview(hedda, start_rung_right="1")
    assert "Only the rungs that you set." in hedda.text
    assert "None." not in hedda.text


def test_phone_and_desk_say_that_the_practitioner_chose_the_rung(site, hedda):
    site.begin(site.founder, builders.days_of(FIRST_DAY, CALM_WEEK))
    _preview(hedda, start_rung_right="1")
    _push(hedda)
    assert anchors_of(site.db, site.founder.id, TODAY, 2)["right"].why[0] == ("own-hand",)
    _receive_second_version(site, site.founder)
    hedda.open("/practice/cases/ansgar0001")
    assert "You chose this rung." in hedda.text
