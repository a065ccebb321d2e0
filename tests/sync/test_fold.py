from datetime import date, timedelta

import pytest

from tests.builders import days_of, event, morning, release, session, uuid7
from tests.cast import CELLIST, FIRST_DAY, NOW
from webapp.dosing.plan import carry_over, start_state
from webapp.dosing.release import Return
from webapp.dosing.responses import RESPONSES
from webapp.library.routine import starter
from webapp.records import routines
from webapp.sync.case import hold
from webapp.sync.folding.anchors import anchors_of
from webapp.sync.folding.fold import accounts_of

LOWEST = Return(1, 1)


def _stand(account):
    state = account.state
    return state.mode, state.rung, state.ease


def _day(number):
    return FIRST_DAY + timedelta(days=number)


def test_no_arm_has_an_account_before_a_routine_was_received(db, ansgar, send):
    send(ansgar, *days_of(FIRST_DAY, [(1, 1)] * 3))
    assert accounts_of(db, ansgar.id, _day(3)) == {}


def test_the_first_day_starts_at_the_start(db, ansgar, send, received):
    send(ansgar, received())
    account = accounts_of(db, ansgar.id, FIRST_DAY)["right"]
    assert account.days == ()
    assert account.state == start_state(account.plan)


@pytest.mark.parametrize("pain", [2, 8])
def test_what_was_sharp_on_the_first_morning_holds_from_the_first_day_on_until_a_release(
    db, ansgar, send, received, pain
):
    send(ansgar, received(), morning(FIRST_DAY, pain, sharp=pain < 8))
    held = accounts_of(db, ansgar.id, FIRST_DAY)["right"]
    start = start_state(held.plan)
    assert (held.state.mode, held.state.rung, held.state.ease) == ("held", start.rung, start.ease)
    assert accounts_of(db, ansgar.id, _day(2))["right"].state.mode == "held"
    on = hold.release_on(held, FIRST_DAY)
    assert on == FIRST_DAY
    release(db, ansgar.id, "right", LOWEST, on, NOW)
    assert accounts_of(db, ansgar.id, on)["right"].state.mode == "training"


def test_a_phone_is_told_what_the_first_morning_would_make_of_the_first_day(db, ansgar, send, received):
    send(ansgar, received())
    anchor = anchors_of(db, ansgar.id, FIRST_DAY, 1)["right"]
    held = [state.mode == "held" for state in anchor.states]
    assert dict(zip(RESPONSES, held, strict=True)) == {response: response == "sharp" for response in RESPONSES}
    assert anchor.why[RESPONSES.index("sharp")] == ("stop",)


def test_a_warning_sign_from_before_the_first_routine_holds_it(db, ansgar, send, received):
    send(ansgar, event("warning_raised", _day(0), {"sign": "chest", "arms": ["right"]}, seq=1))
    send(ansgar, received(on=_day(3)))
    assert accounts_of(db, ansgar.id, _day(3))["right"].state.mode == "held"
    assert {state.mode for state in anchors_of(db, ansgar.id, _day(3), 1)["right"].states} == {"held"}


def test_a_sign_of_the_whole_body_holds_both_arms_and_one_to_ask_about_holds_none(db, ansgar, send, received):
    body = {"sign": "heart", "arms": ["right", "left"], "holds": False}
    send(ansgar, received(), event("warning_raised", _day(1), body, seq=2))
    assert accounts_of(db, ansgar.id, _day(2))["right"].state.mode == "training"
    send(ansgar, event("warning_raised", _day(1), {"sign": "chest", "arms": ["right", "left"]}, seq=3))
    modes = {arm: account.state.mode for arm, account in accounts_of(db, ansgar.id, _day(2)).items()}
    assert modes == dict.fromkeys(modes, "held")
    assert "right" in modes


def test_days_are_closed_by_what_the_log_says_of_them(db, ansgar, send, received):
    send(ansgar, received(), *days_of(FIRST_DAY, [(1, 1), (4, 2), (None, 1), (2, None)]))
    account = accounts_of(db, ansgar.id, _day(4))["right"]
    assert [day.response for day in account.days] == ["settled", "aching", "missed", "unreported"]


def test_a_day_of_which_too_little_was_done_is_partly_and_one_without_a_rep_is_missed(db, ansgar, send, received):
    shares = (800, 799, 0)
    send(ansgar, received(), *(session(_day(n), 1, share=share, seq=n + 1) for n, share in enumerate(shares)))
    send(ansgar, *(morning(_day(n + 1), 1, seq=n + 11) for n in range(3)))
    account = accounts_of(db, ansgar.id, _day(3))["right"]
    assert [day.response for day in account.days] == ["settled", "partly", "missed"]


def test_two_sessions_that_did_half_each_make_a_whole_day(db, ansgar, send, received):
    halves = (session(FIRST_DAY, 1, share=400, seq=number) for number in (1, 2))
    send(ansgar, received(), *halves, morning(_day(1), 1, seq=3))
    assert accounts_of(db, ansgar.id, _day(1))["right"].days[0].response == "settled"


@pytest.mark.parametrize(("known", "response"), [(1, "unreported"), (4, "aching"), (6, "flared"), (8, "sharp")])
def test_a_session_without_a_rating_hides_no_rating_of_another(db, ansgar, send, received, known, response):
    entries = (session(FIRST_DAY, worst, seq=number) for number, worst in enumerate((known, None), 1))
    send(ansgar, received(), *entries, morning(_day(1), 1, seq=3))
    assert accounts_of(db, ansgar.id, _day(1))["right"].days[0].response == response


def test_each_arm_has_its_own_account(db, mirela, send, received):
    send(mirela, received(), session(FIRST_DAY, 9, arms=("left",)), session(FIRST_DAY, 1, arms=("right",), seq=2))
    send(mirela, morning(_day(1), 1, arms=("right", "left"), seq=3))
    accounts = accounts_of(db, mirela.id, _day(1))
    assert {arm: account.state.mode for arm, account in accounts.items()} == {"left": "held", "right": "training"}


def test_a_correction_changes_the_day_it_speaks_of_however_late_it_comes(db, ansgar, send, received):
    send(ansgar, received(), *days_of(FIRST_DAY, [(7, 1), (1, 1), (1, 1)]))
    assert accounts_of(db, ansgar.id, _day(3))["right"].days[0].response == "flared"
    body = session(FIRST_DAY, 2)["body"]
    send(ansgar, event("entry_corrected", _day(3), {"replaces": uuid7(1), "body": body}, seq=50))
    account = accounts_of(db, ansgar.id, _day(3))["right"]
    assert [day.response for day in account.days] == ["settled"] * 3


STOPS = {
    "a rating of 9": lambda: (session(FIRST_DAY, 9, seq=9), session(FIRST_DAY, 2)["body"]),
    "sharp pain": lambda: (session(FIRST_DAY, 1, sharp=True, seq=9), session(FIRST_DAY, 2)["body"]),
    "a morning of 8": lambda: (morning(_day(1), 8, seq=9), morning(_day(1), 2)["body"]),
    "a warning sign": lambda: (event("warning_raised", FIRST_DAY, {"sign": "numb", "arms": ["right"]}, seq=9), None),
    "a session that is withdrawn": lambda: (session(FIRST_DAY, 9, seq=9), None),
}


@pytest.mark.parametrize("stop", STOPS)
def test_no_correction_of_a_later_day_takes_a_stop_away(db, ansgar, send, received, stop):
    entry, body = STOPS[stop]()
    fix = {"replaces": entry["id"], "body": body}
    send(ansgar, received(), entry, event("entry_corrected", _day(3), fix, seq=50))
    assert accounts_of(db, ansgar.id, _day(3))["right"].state.mode == "held"


@pytest.mark.parametrize("stop", STOPS)
def test_a_stop_that_is_taken_back_on_its_own_day_holds_nothing(db, ansgar, send, received, stop):
    entry, body = STOPS[stop]()
    fix = {"replaces": entry["id"], "body": body}
    send(ansgar, received(), entry, event("entry_corrected", date.fromisoformat(entry["on"]), fix, seq=50))
    assert accounts_of(db, ansgar.id, _day(3))["right"].state.mode == "training"


def test_a_late_correction_that_leaves_the_stop_counts_and_one_about_one_of_two_arms_does_not(
    db, mirela, send, received
):
    both = session(FIRST_DAY, 9, arms=("right", "left"), seq=9)
    higher, other = (
        session(FIRST_DAY, worst, arms=arms)["body"] for worst, arms in ((10, ("right", "left")), (9, ("left",)))
    )
    fixes = [{"replaces": both["id"], "body": body} for body in (higher, other)]
    send(mirela, received(), both, *(event("entry_corrected", _day(3), fix, seq=50 + n) for n, fix in enumerate(fixes)))
    accounts = accounts_of(db, mirela.id, _day(3))
    assert [accounts[arm].state.mode for arm in ("right", "left")] == ["held", "held"]
    assert [accounts[arm].facts[FIRST_DAY].during for arm in ("right", "left")] == [10, 10]


def test_a_hold_lasts_until_the_day_it_is_released(db, ansgar, send, received):
    send(ansgar, received(), *days_of(FIRST_DAY, [(9, 1), (1, 1), (1, 1)]))
    held = accounts_of(db, ansgar.id, _day(3))["right"]
    on = hold.release_on(held, _day(3))
    assert on == _day(3)
    release(db, ansgar.id, "right", Return(2, 1), on, NOW)
    released = accounts_of(db, ansgar.id, on)["right"]
    assert _stand(released) == ("training", 2, 1)
    assert accounts_of(db, ansgar.id, _day(2))["right"].state.mode == "held"


def test_a_release_counts_only_after_the_last_sharp_day(db, ansgar, send, received):
    send(ansgar, received(), *days_of(FIRST_DAY, [(1, 1)]), session(_day(2), 1, sharp=True, seq=40))
    account = accounts_of(db, ansgar.id, _day(2))["right"]
    assert hold.release_on(account, _day(2)) == _day(3)
    release(db, ansgar.id, "right", LOWEST, _day(2), NOW)
    assert accounts_of(db, ansgar.id, _day(3))["right"].state.mode == "held", "too early to count"


def test_a_sharp_day_of_a_clock_that_stood_years_ahead_is_not_waited_for(db, ansgar, send, received):
    send(ansgar, received(), session(FIRST_DAY, 9), session(FIRST_DAY.replace(year=2091), 9, seq=40))
    assert hold.release_on(accounts_of(db, ansgar.id, _day(2))["right"], _day(2)) == _day(2)


def test_a_release_of_an_arm_that_is_not_held_changes_nothing(db, ansgar, send, received):
    send(ansgar, received(), *days_of(FIRST_DAY, [(1, 1)] * 5))
    before = accounts_of(db, ansgar.id, _day(5))
    release(db, ansgar.id, "right", Return(9, 0), _day(3), NOW)
    assert accounts_of(db, ansgar.id, _day(5)) == before


def test_a_phone_cannot_reach_a_release_with_a_correction(db, ansgar, send, received):
    send(ansgar, received(), *days_of(FIRST_DAY, [(9, 1)]))
    entry = release(db, ansgar.id, "right", LOWEST, _day(1), NOW)
    body = {"arms": {"right": {"rung": 2, "range": 1, "covers": []}}}
    send(ansgar, event("entry_corrected", _day(1), {"replaces": entry, "body": body}, seq=50))
    assert accounts_of(db, ansgar.id, _day(1))["right"].state.rung == 1


LATE_REPORTS = {
    "a session of a day that was thought quiet": lambda: session(_day(2), 1, sharp=True, seq=40),
    "a session of the sharp day itself": lambda: session(FIRST_DAY, 8, seq=40),
    "a morning of the release's own day": lambda: morning(_day(3), 8, seq=40),
    "a warning sign": lambda: event("warning_raised", _day(1), {"sign": "numb", "arms": ["right"]}, seq=40),
    "a correction that makes an entry sharp": lambda: event(
        "entry_corrected", _day(3), {"replaces": uuid7(3), "body": session(_day(1), 9)["body"]}, seq=40
    ),
}


@pytest.mark.parametrize("report", LATE_REPORTS)
def test_a_release_does_not_end_a_hold_over_a_sharp_report_that_came_after_it(db, ansgar, send, received, report):
    send(ansgar, received(), *days_of(FIRST_DAY, [(9, 1), (1, 1)]))
    release(db, ansgar.id, "right", Return(2, 1), _day(3))
    assert accounts_of(db, ansgar.id, _day(3))["right"].state.mode == "training"
    send(ansgar, LATE_REPORTS[report]())
    assert accounts_of(db, ansgar.id, _day(3))["right"].state.mode == "held"
    assert {state.mode for state in anchors_of(db, ansgar.id, _day(3), 1)["right"].states} == {"held"}
    release(db, ansgar.id, "right", LOWEST, _day(3))
    assert _stand(accounts_of(db, ansgar.id, _day(3))["right"]) == ("training", 1, 1), "the next release read it"


def test_a_sharp_report_about_the_day_of_a_release_is_a_hold_of_its_own(db, ansgar, send, received):
    send(ansgar, received(), session(FIRST_DAY, 9))
    release(db, ansgar.id, "right", Return(2, 1), _day(1))
    send(ansgar, session(_day(1), 9, seq=40))
    account = accounts_of(db, ansgar.id, _day(2))["right"]
    assert [day.state_before.mode for day in account.days] == ["training", "training"]
    assert account.state.mode == "held"


def test_a_sharp_report_of_one_arm_does_not_keep_the_other_held(db, mirela, send, received):
    send(mirela, received(), session(FIRST_DAY, 9, arms=("right", "left")))
    release(db, mirela.id, "right", LOWEST, _day(2))
    send(mirela, session(_day(1), 9, arms=("left",), seq=40))
    accounts = accounts_of(db, mirela.id, _day(2))
    assert {arm: account.state.mode for arm, account in accounts.items()} == {"right": "training", "left": "held"}


def test_a_new_routine_counts_from_the_day_it_was_received_and_carries_the_state_over(
    db, hedda, ansgar, send, received
):
    send(ansgar, received(), *days_of(FIRST_DAY, [(1, 1)] * 12))
    before = accounts_of(db, ansgar.id, _day(8))["right"]
    lighter = {**routines.latest(db, ansgar.id).settings, "weights_kg": [0, 0.25]}
    routines.push(db, ansgar.id, starter("wrist"), lighter, "", hedda.id, NOW)
    assert accounts_of(db, ansgar.id, _day(8))["right"] == before, "pushed, but not received"
    send(ansgar, received(2, _day(8), seq=901))
    after = accounts_of(db, ansgar.id, _day(8))["right"]
    assert after.version == 2
    assert after.state == carry_over(before.plan, after.plan, before.state)
    assert after.days == before.days


def test_an_older_routine_that_is_received_later_changes_nothing(db, hedda, ansgar, send, received):
    routines.push(db, ansgar.id, starter("wrist"), routines.latest(db, ansgar.id).settings, "", hedda.id, NOW)
    send(ansgar, received(2, FIRST_DAY), received(1, _day(3), seq=901), *days_of(FIRST_DAY, [(1, 1)] * 5))
    assert accounts_of(db, ansgar.id, _day(5))["right"].version == 2


def test_a_receipt_of_a_version_that_does_not_exist_counts_for_nothing(db, ansgar, send, received):
    send(ansgar, received(77), *days_of(FIRST_DAY, [(1, 1)]))
    assert accounts_of(db, ansgar.id, _day(1)) == {}


def test_an_arm_that_a_new_routine_adds_starts_on_the_day_of_that_routine(db, hedda, isaura, send, received):
    send(isaura, received(), *days_of(FIRST_DAY, [(1, 1)] * 6, arms=("left", "right")))
    both = {**CELLIST.settings, "arms": ["left", "right"]}
    routines.push(db, isaura.id, starter("inner_elbow"), both, "", hedda.id, NOW)
    send(isaura, received(2, _day(4), seq=901))
    accounts = accounts_of(db, isaura.id, _day(6))
    assert {arm: len(account.days) for arm, account in accounts.items()} == {"left": 6, "right": 2}
