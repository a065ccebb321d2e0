"""The hold: the reports behind it, its release, and that nothing is released while a report is unread."""

import json
import re
from datetime import timedelta

import pytest

from tests import builders
from tests.cast import FIRST_DAY as FIRST
from tests.cast import HEDDA
from tests.practice.conftest import hold_cellist
from webapp.dosing.release import Return
from webapp.records import events
from webapp.sync.case import hold

PATH = "/practice/cases/isaura0001"
REASON = "The elbow was looked at and is calm."
GROUNDS = hold.Grounds(REASON, HEDDA.name)
ENTRIES = {"left-chosen": "1@0.5", "left-reason": REASON, "left-confirmed": "yes"}
ANSWERS = {"where": "inner_elbow", "like": "electric", "sign": True}
STOPPED = builders.uuid7(50)


def _release(hedda, **changes):
    hedda.open("/practice/cases/isaura0001")
    entries = ENTRIES | changes
    return hedda.fill("/release", entries, post_to="/practice/cases/isaura0001/release")


def test_releasing_a_hold_writes_the_entry_and_the_arm_trains_again(site, hedda):
    hold_cellist(site)
    _release(hedda)
    assert "The hold is released" in hedda.text
    written = [json.loads(event.raw) for event in events.latest_of(site.db, site.cellist.id, ["hold_released"], 5)]
    body = {
        "arms": {"left": {"rung": 1, "range": 0.5, "covers": [builders.uuid7(50)], "reason": REASON, "by": HEDDA.name}}
    }
    assert [(event["on"], event["body"]) for event in written] == [("2026-03-09", body)]
    assert "The left arm is held" not in hedda.open("/practice/cases/isaura0001").text
    assert "You released the hold" in hedda.text


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"left-confirmed": []}, "Talked with the client: this is needed"),
        ({"left-reason": "  "}, "Why it may start again: this is needed"),
        ({"left-reason": "x" * 281}, "Why it may start again: 281 characters are too many"),
        ({"left-chosen": "99@0.5"}, 'Where it starts again: "99@0.5" is not among the choices'),
        ({"left-chosen": "2@1.0"}, 'Where it starts again: "2@1.0" is not among the choices'),
        ({"left-chosen": "x"}, 'Where it starts again: "x" is not among the choices'),
    ],
)
def test_a_release_without_confirmation_or_to_a_return_that_is_not_offered_is_refused(site, hedda, changes, sentence):
    hold_cellist(site)
    assert _release(hedda, **changes).status_code == 400
    assert sentence in hedda.text
    assert not events.latest_of(site.db, site.cellist.id, ["hold_released"], 5)


def test_an_arm_that_is_not_held_cannot_be_released(site, hedda):
    hold_cellist(site)
    hedda.open("/practice/cases/isaura0001")
    entries = hedda.form("/release").to_dict() | ENTRIES
    hedda.send("/practice/cases/isaura0001/release", entries)
    hedda.send("/practice/cases/isaura0001/release", entries, follow=True)
    assert "not held any more" in hedda.text
    assert len(events.latest_of(site.db, site.cellist.id, ["hold_released"], 5)) == 1


def test_what_is_offered_begins_with_the_most_and_says_reps_range_and_weight(site, hedda):
    hold_cellist(site)
    page = hedda.open(PATH).text
    offered = page[page.index("left-chosen") :].partition("</select>")[0]
    choices = re.findall(r'<option value="([^"]+)"[^>]*>([^<]+)<', offered)
    assert [value for value, _ in choices] == ["2@0.75", "2@0.5", "1@0.75", "1@0.5"]
    assert choices[0][1].strip() == "rung 2, three quarters of the range: 10 reps, no weight"


def test_no_return_is_chosen_for_the_practitioner(site, hedda):
    hold_cellist(site)
    hedda.open("/practice/cases/isaura0001")
    entries = hedda.form("/release").to_dict() | ENTRIES | {"left-chosen": ""}
    assert hedda.send("/practice/cases/isaura0001/release", entries).status_code == 400
    assert "Where it starts again: this is needed" in hedda.text


def _filled(hedda):
    """Return the entries of the page's release form, filled in."""
    return hedda.form("/release").to_dict() | ENTRIES


def _releases(site):
    return events.latest_of(site.db, site.cellist.id, ["hold_released"], 5)


def _answered(answers=ANSWERS, *, seq=88, **changes):
    """Return the correction with which a phone sends the three answers about a stop: the session's body with the answers."""
    body = builders.session(FIRST, 9, arms=("left",), sharp=True)["body"] | {"sharp_told": answers} | changes
    return builders.event("entry_corrected", FIRST, {"replaces": STOPPED, "body": body}, seq=seq)


MEANWHILE = {
    "a warning sign": (
        builders.event("warning_raised", FIRST, {"sign": "cold_hand", "arms": ["left"]}, seq=88),
        "a warning sign The hand",
    ),
    "a sharp session": (
        builders.session(builders.date(2026, 3, 7), 2, arms=("left",), sharp=True, seq=88),
        "Sat 7 Mar 2026: a session stopped for sharp pain",
    ),
    "a bad morning": (
        builders.morning(builders.date(2026, 3, 9), 8, arms=("left",), seq=88),
        "Sun 8 Mar 2026, by the next morning Pain 8 of 10.",
    ),
    "the answers alone": (_answered(), "Where: inner elbow. Like: electric. A warning sign then: yes, or not sure."),
}


@pytest.mark.parametrize("news", MEANWHILE)
def test_what_came_in_while_the_page_was_open_is_read_before_a_release(site, hedda, news):
    hold_cellist(site)
    hedda.open(PATH)
    entries = _filled(hedda)
    event, said = MEANWHILE[news]
    site.receive(site.cellist, [event])
    assert hedda.send(f"{PATH}/release", entries).status_code == 400
    assert "Nothing was released: while this page was open, another sharp report came in" in hedda.text
    assert said in hedda.text
    assert hedda.text.count(" New ") == 1
    assert "left-confirmed" not in hedda.form("/release").to_dict(), "to be confirmed anew"
    assert not _releases(site)
    seen = {"left-seen_by": "doctor", "left-seen_on": "2026-03-09"} if news == "a warning sign" else {}
    hedda.send(f"{PATH}/release", _filled(hedda) | seen)
    [written] = _releases(site)
    covered = json.loads(written.raw)["body"]["arms"]["left"]["covers"]
    assert covered == ([STOPPED] if news == "the answers alone" else [STOPPED, builders.uuid7(88)])


@pytest.mark.parametrize("fault", [{"left-confirmed": ""}, {"left-chosen": "x"}, {"left-csrf_token": "old"}])
def test_what_came_in_is_said_beside_any_other_fault_of_the_form(site, hedda, fault):
    hold_cellist(site)
    hedda.open(PATH)
    entries = _filled(hedda) | fault
    site.receive(site.cellist, [_answered()])
    assert hedda.send(f"{PATH}/release", entries).status_code == 400
    assert "Nothing was released: while this page was open" in hedda.text
    assert "left-confirmed" not in hedda.form("/release").to_dict()


def test_answers_that_were_put_right_are_read_anew(site, hedda):
    hold_cellist(site)
    site.receive(site.cellist, [_answered({**ANSWERS, "sign": False})])
    assert "A warning sign then: no." in hedda.open(PATH).text
    entries = _filled(hedda)
    site.receive(site.cellist, [_answered(seq=89)])
    hedda.send(f"{PATH}/release", entries)
    assert not _releases(site)
    assert "A warning sign then: yes, or not sure." in hedda.text


def test_what_is_not_about_sharp_pain_does_not_stand_in_the_way(site, hedda):
    hold_cellist(site)
    hedda.open(PATH)
    entries = _filled(hedda)
    site.receive(site.cellist, [builders.morning(builders.date(2026, 3, 9), 2, arms=("left",), seq=88)])
    hedda.send(f"{PATH}/release", entries)
    assert len(_releases(site)) == 1


@pytest.mark.parametrize("seen", [None, "", "x"])
def test_a_form_that_does_not_say_what_it_showed_releases_nothing(site, hedda, seen):
    hold_cellist(site)
    hedda.open(PATH)
    entries = _filled(hedda) | {"left-seen": seen}
    hedda.send(f"{PATH}/release", {name: value for name, value in entries.items() if value is not None})
    assert not _releases(site)


def test_an_answer_between_the_look_and_the_writing_releases_nothing(site):
    hold_cellist(site)
    seen = hold.seal(hold.sharp_of(site.db, site.cellist.id, "left"))
    site.receive(site.cellist, [_answered()])
    with pytest.raises(hold.UnreadError):
        hold.release(
            site.db, site.cellist.id, "left", Return(1, 2), GROUNDS, seen, FIRST + timedelta(days=7), now=site.clock()
        )
    assert not _releases(site)


def test_a_stop_without_its_answers_says_so(site, hedda):
    hold_cellist(site)
    assert "The three questions after the stop: not answered." in hedda.open(PATH).text


def test_reports_of_an_earlier_hold_stand_apart(site, hedda):
    hold_cellist(site)
    _release(hedda)
    site.receive(site.cellist, [builders.session(builders.date(2026, 3, 9), 9, arms=("left",), seq=60)])
    hedda.open(PATH)
    assert "Mon 9 Mar 2026: a session The worst in it was 9 of 10. 1 report of an earlier hold" in hedda.text


def test_a_new_answer_to_a_report_of_an_earlier_hold_is_not_folded_away(site, hedda):
    hold_cellist(site)
    _release(hedda)
    site.receive(site.cellist, [builders.session(builders.date(2026, 3, 9), 9, arms=("left",), seq=60)])
    hedda.open(PATH)
    entries = _filled(hedda)
    site.receive(site.cellist, [_answered()])
    assert hedda.send(f"{PATH}/release", entries).status_code == 400
    assert "New Sun 8 Mar 2026: a session stopped for sharp pain Where: inner elbow." in hedda.text
    assert "of an earlier hold" not in hedda.text


def test_a_sign_from_before_any_routine_asks_at_its_release_who_has_seen_the_arm(site, hedda):
    sign = builders.event("warning_raised", FIRST - timedelta(days=3), {"sign": "cold_hand", "arms": ["left"]}, seq=88)
    site.begin(site.cellist, [sign])
    lowest = {"left-chosen": "1@0.5"}
    assert _release(hedda, **lowest).status_code == 400
    assert "Who has seen the arm: this is needed" in hedda.text
    assert not events.latest_of(site.db, site.cellist.id, ["hold_released"], 5)
    seen = {"left-seen_by": "doctor", "left-seen_on": "2026-03-09"}
    _release(hedda, **lowest, **seen)
    assert "The hold is released" in hedda.text
