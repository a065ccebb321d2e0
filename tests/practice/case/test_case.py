"""The caseload and the case: one's own clients only, what they did, and what they are waiting for."""

import re

import pytest

from tests import builders
from tests.cast import FIRST_DAY as FIRST
from tests.cast import HEDDA, JONAS
from tests.practice.conftest import hold_cellist
from webapp.records import routines

PATHS = ("", "/routine", "/invite", "/release", "/phones/any/revoke")


@pytest.mark.parametrize("path", PATHS)
def test_another_practitioners_client_is_not_there_at_all(hedda, path):
    whole = f"/practice/cases/livia00001{path}"
    answers = [hedda.send(whole, {})] if path not in ("", "/routine") else [hedda.open(whole)]
    assert [answer.status_code for answer in answers] == [404]
    assert "Livia" not in hedda.page.text


def test_each_practitioner_sees_their_own_clients_and_no_others(site):
    seen = {}
    for person in (HEDDA, JONAS):
        visitor = site.visitor()
        visitor.sign_in(person.email, person.password)
        seen[person.name] = visitor.open("/practice").text
    assert "Ansgar Tolle" in seen[HEDDA.name]
    assert "Livia Korn" not in seen[HEDDA.name]
    assert "Livia Korn" in seen[JONAS.name]
    assert "Ansgar Tolle" not in seen[JONAS.name]


def test_the_caseload_tells_arm_day_rung_and_how_it_goes(site, hedda):
    site.begin(site.founder, builders.days_of(FIRST, [(2, 1)] * 7))
    hedda.open("/practice")
    line = hedda.text[hedda.text.index("Ansgar Tolle") :]
    for text in ("right outer elbow, day 8", "Settled for 7 days.", "rung 3 of 16"):
        assert text in line


def test_a_routine_that_no_phone_has_is_told(hedda):
    hedda.open("/practice")
    assert "No phone has joined yet." in hedda.text


def test_silence_of_three_days_is_seen(site, hedda):
    site.begin(site.founder, builders.days_of(FIRST, [(2, 1)] * 4))
    assert "No session for 3 days" in hedda.open("/practice").text


def test_mornings_without_a_session_are_counted_alike_beside_the_name_and_by_the_review(site, hedda):
    mornings = [(None, 1)] * 3
    site.begin(site.founder, builders.days_of(FIRST, [(2, 1), (2, 1), *mornings]))
    page = hedda.open("/practice/cases/ansgar0001").text
    assert re.findall(r"No session for (\d+) days", page) == ["5", "5"]


def test_where_the_last_day_changed_nothing_the_last_change_is_named_with_its_day(site, visitor):
    site.clock.pass_by(days=1)
    visitor.sign_in(HEDDA.email, HEDDA.password)
    site.begin(site.founder, builders.days_of(FIRST, [(2, 2)] * 7 + [(2, 3)]))
    page = visitor.open("/practice/cases/ansgar0001").text
    standing = page[page.index('id="stand-right"') :]
    reasons = re.findall(r'<p class="why"><span>([^<]*)</span> ([^<]*?) *</p>', standing)
    assert reasons == [
        ("Why", "Tender: by itself it changes nothing."),
        (
            "Last changed Mon 9 Mar 2026",
            "Settled: the day counts. The first week is over: a day with exercises has one session.",
        ),
    ]


def test_where_the_last_day_changed_the_dose_nothing_else_is_named(site, hedda):
    site.begin(site.founder, builders.days_of(FIRST, [(1, 1)] * 6 + [(7, 3)]))
    page = hedda.open("/practice/cases/ansgar0001").text
    assert "Flared: rest, then the range is eased one step." in page
    assert "Last changed" not in page


def test_silence_of_two_days_is_not_called_silence(site, hedda):
    site.begin(site.founder, builders.days_of(FIRST, [(2, 1)] * 5))
    assert "No session for" not in hedda.open("/practice").text


@pytest.mark.parametrize("zone", ["America", "Nowhere/Atall", "posixrules", "leapseconds"])
def test_a_time_zone_that_nobody_knows_leaves_the_caseload_standing(site, hedda, zone):
    site.begin(site.founder, [builders.session(FIRST, 2, zone=zone)])
    assert "Ansgar Tolle" in hedda.open("/practice").text


def test_an_entry_of_a_clock_that_stood_years_ahead_does_not_hide_silence(site, hedda):
    far = builders.date(2091, 5, 4)
    ahead = [builders.session(far, 2, seq=70), builders.morning(far, 2, seq=71)]
    site.begin(site.founder, [*builders.days_of(FIRST, [(2, 1)] * 4), *ahead])
    assert "No session for 3 days" in hedda.open("/practice").text


def _moved_to_the_left_arm(site):
    """The founder trained the right arm for four days. Then Hedda pushed a routine for the left arm only."""
    site.begin(site.founder, builders.days_of(FIRST, [(1, 1)] * 4))
    newest = routines.latest(site.db, site.founder.id)
    settings = {**newest.settings, "arms": ["left"]}
    routines.push(site.db, site.founder.id, newest.routine, settings, "", newest.pushed_by, site.clock())
    on = FIRST + builders.timedelta(days=4)
    site.receive(site.founder, [builders.event("routine_received", on, {"version": 2}, seq=901)])


def test_an_arm_that_the_routine_no_longer_asks_for_is_not_called_silent(site, hedda):
    _moved_to_the_left_arm(site)
    page = hedda.open("/practice/cases/ansgar0001").text
    assert [arm for arm in ("right", "left") if f'id="stand-{arm}"' in page] == ["left"]


def test_a_hold_of_an_arm_that_the_routine_no_longer_asks_for_is_still_shown(site, hedda):
    _moved_to_the_left_arm(site)
    site.receive(site.founder, [builders.session(FIRST, 9, seq=77)])
    assert "The right arm is held" in hedda.open("/practice/cases/ansgar0001").text


def test_a_held_arm_stands_first_and_says_so_in_words(site, hedda):
    hold_cellist(site)
    hedda.open("/practice")
    assert hedda.text.index("Isaura Linde") < hedda.text.index("Ansgar Tolle")
    assert "the arm is held" in hedda.text


def test_sharp_pain_of_this_very_day_counts_at_once(site, hedda):
    site.begin(site.founder, [builders.session(builders.date(2026, 3, 9), 9, sharp=True)])
    assert "The right arm is held" in hedda.open("/practice/cases/ansgar0001").text


# The name of each day on the case page, by: the session's worst rating (None without a session), the next morning's rating,
# the share done.
DAYS = [
    (2, 3, 1000, "tender"),
    (None, 3, 0, "no session"),
    (None, 4, 0, "sore"),
    (4, 2, 1000, "aching"),
    (2, 2, 500, "partly"),
    (2, None, 1000, "number missing"),
    (7, 3, 1000, "flared"),
    (2, 2, 1000, "partly"),
    (2, 2, 1000, "settled"),
    (9, 2, 1000, "sharp"),
]


def _told_of(days):
    for number, (worst, pain, share, _) in enumerate(days):
        on = FIRST + builders.timedelta(days=number)
        if worst is not None:
            yield builders.session(on, worst, share=share, seq=2 * number + 1)
        if pain is not None:
            yield builders.morning(on + builders.timedelta(days=1), pain, seq=2 * number + 2)


def test_the_case_shows_each_day_with_its_response_and_reason(site, visitor):
    site.clock.pass_by(days=len(DAYS) - 7)
    visitor.sign_in(HEDDA.email, HEDDA.password)
    site.begin(site.founder, list(_told_of(DAYS)))
    page = visitor.open("/practice/cases/ansgar0001").text
    shown = re.findall(r'class="response response-[a-z]+">([^<]*)</span>', page)
    assert shown[::-1] == [name for *_, name in DAYS]
    assert "Flared: rest, then the range is eased one step." in visitor.text
    assert "Mon 2 Mar 2026" in visitor.text


def test_a_warning_sign_is_shown_with_its_words(site, hedda):
    raised = builders.event(
        "warning_raised", builders.date(2026, 3, 8), {"sign": "cold_hand", "arms": ["right"]}, seq=70
    )
    site.begin(site.founder, [raised])
    hedda.open("/practice/cases/ansgar0001")
    assert "Emergency · The hand is suddenly cold" in hedda.text
    assert "It stopped the right arm." in hedda.text


def test_a_sign_that_was_told_and_held_nothing_is_shown_and_the_arm_trains_on(site, hedda):
    body = {"sign": "heart", "arms": ["right", "left"], "holds": False}
    site.begin(site.founder, [builders.event("warning_raised", builders.date(2026, 3, 8), body, seq=70)])
    hedda.open("/practice/cases/ansgar0001")
    assert "Ask a clinician first · You have heart trouble. It stopped no arm." in hedda.text
    assert "the arm is held" not in hedda.text


def test_a_sign_that_was_taken_back_is_shown_as_taken_back_and_not_as_raised(site, hedda):
    day = builders.date(2026, 3, 8)
    raised = builders.event("warning_raised", day, {"sign": "cold_hand", "arms": ["right"]}, seq=70)
    taken_back = builders.event("entry_corrected", day, {"replaces": raised["id"], "body": None}, seq=71)
    site.begin(site.founder, [raised, taken_back])
    hedda.open("/practice/cases/ansgar0001")
    assert "Warning signs raised" not in hedda.text
    assert "It stopped the right arm." not in hedda.text
    assert "Ticked by mistake, and taken back on the phone: Sun 8 Mar 2026" in hedda.text
    assert "The hand is suddenly cold" in hedda.text


def test_what_the_review_noticed_stands_on_the_case_page(site, hedda):
    hold_cellist(site)
    page = hedda.open(f"/practice/cases/{site.cellist.public_id}").text
    assert "Sharp pain or a warning sign was reported, and the arm is held." in page
    assert "The review never changes a dose." in page


def test_the_account_names_the_numbers_and_the_rule_of_each_day(site, hedda):
    hold_cellist(site)
    page = hedda.open(f"/practice/cases/{site.cellist.public_id}/account").text
    said = "Settled: enough of it was done, the session was rated 1 (at most 3) and the next morning 1 (at most 2)."
    assert said in page
    assert "[wait]" in page


def test_another_practitioners_account_is_not_there(hedda):
    assert hedda.open("/practice/cases/livia00001/account").status_code == 404


def test_a_sign_that_was_taken_back_too_late_to_free_the_arm_still_stands_as_raised(site, hedda):
    raised = builders.event(
        "warning_raised", builders.date(2026, 3, 7), {"sign": "cold_hand", "arms": ["right"]}, seq=70
    )
    too_late = {"replaces": raised["id"], "body": None}
    site.begin(site.founder, [raised, builders.event("entry_corrected", builders.date(2026, 3, 8), too_late, seq=71)])
    hedda.open("/practice/cases/ansgar0001")
    assert "It stopped the right arm." in hedda.text
    assert "taken back on the phone" not in hedda.text
