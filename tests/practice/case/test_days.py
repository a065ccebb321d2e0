"""The sessions on the case page: what the client did, one row each, in words."""

import re
from html import unescape

import pytest

from tests import builders
from tests.builders import date, enrol, timedelta
from tests.cast import BOOKBINDER
from tests.cast import FIRST_DAY as FIRST
from webapp.events import kinds
from webapp.practice.case.days import session_rows
from webapp.records import routines

TODAY = date(2026, 3, 9)
YESTERDAY = date(2026, 3, 8)
STOP = {"ended": "stopped", "done_steps": 12}


def session_event(seq=1, on=YESTERDAY, worst=2, arms=("right",), **changes):
    sent = builders.session(on, worst, arms=arms, seq=seq)
    return {**sent, "body": sent["body"] | changes}


def eased(*pairs):
    return [{"step": 3, "what": way, "movement": movement} for way, movement in pairs]


def rows(page):
    """Return the text of each row, without tags."""
    part = page.partition('<ul class="sessions">')[2].partition("</section>")[0]
    plain = [re.sub(r"<[^>]+>", " ", row) for row in part.split("</li>")[:-1]]
    return [re.sub(r"\s+", " ", unescape(row)).strip() for row in plain]


@pytest.fixture
def seen(site, hedda):
    """A function that sends sessions from the bell founder's phone, and returns the rows of the case page."""

    def look(*sent):
        site.begin(site.founder, list(sent))
        return rows(hedda.open("/practice/cases/ansgar0001").text)

    return look


@pytest.fixture
def seen_of_two(site, hedda):
    """The same for the bookbinder, whose routine has both arms."""
    binder = enrol(site.db, site.hedda.id, BOOKBINDER)

    def look(*sent):
        site.begin(binder, list(sent))
        return rows(hedda.open("/practice/cases/mirela0001").text)

    return look


def test_a_plain_session_is_one_plain_line(seen):
    assert seen(session_event()) == ["Sun 8 Mar 2026 Right arm worst 2 completed"]


def test_the_latest_day_comes_first_and_two_sessions_of_a_day_are_two_rows(seen):
    days = [
        row[:15].strip()
        for row in seen(session_event(1, FIRST), session_event(2, FIRST), session_event(3), session_event(4, TODAY))
    ]
    assert days == ["Mon 9 Mar 2026", "Sun 8 Mar 2026", "Mon 2 Mar 2026", "Mon 2 Mar 2026"]


@pytest.mark.parametrize(
    ("why", "said"),
    [
        ("time", "no time left"),
        ("discomfort", "discomfort"),
        ("tired", "tired"),
        ("interrupted", "interrupted"),
        ("other", "something else"),
        ("", "no reason given"),
    ],
)
def test_a_session_stopped_early_says_why_and_how_far_it_came(seen, why, said):
    assert seen(session_event(**STOP, why=why)) == [
        f"Sun 8 Mar 2026 Right arm worst 2 stopped early: {said} 12 of 20 parts"
    ]


def test_a_session_without_a_number_says_so(seen):
    assert "worst no number" in seen(session_event(worst=None))[0]


def test_parts_left_out_of_a_completed_session_are_counted(seen):
    assert seen(session_event(done_steps=19))[0].endswith("completed 19 of 20 parts")


def test_a_sharp_stop_says_where_what_it_was_like_and_whether_there_was_a_sign(seen):
    stop = session_event(arms=("right",), ended="sharp", done_steps=7)
    stop["body"]["arms"]["right"]["sharp"] = True
    answers = {"where": "hand", "like": "gave_way", "sign": False}
    put_right = {"replaces": stop["id"], "body": stop["body"] | {"sharp_told": answers}}
    [row] = seen(builders.event("entry_corrected", TODAY, put_right, seq=9), stop)
    assert "stopped for sharp pain 7 of 20 parts" in row
    assert row.endswith("Where: hand or fingers. Like: the arm gave way. A warning sign then: no.")


def test_the_clients_line_is_shown_as_written_and_as_text(seen):
    assert seen(session_event(note="Thumb <b>pulled</b> & then not."))[0].endswith(
        "completed Thumb <b>pulled</b> & then not."
    )


def test_what_was_eased_is_told_with_its_movement_and_how_often(seen):
    changes = eased(("range", "palm_down"), ("range", "palm_down"), ("load", "palm_up"), ("form", "palm_up"))
    [row] = seen(
        session_event(eased=[*changes, *eased(("reps", "thumb_up"), ("leave", "little_finger_up"), ("leave", ""))])
    )
    assert row.partition("Eased: ")[2].split("; ") == [
        "smaller range from palm down on (2 times)",
        "lighter weight from palm up on",
        "form checked in palm up",
        "fewer reps from thumb up on",
        "little finger up left out",
        "one movement left out",
    ]


def test_the_ways_and_the_interruptions_stand_in_the_line(seen):
    [row] = seen(session_event(ways=["short", "own_pace"], gaps=[[30, 100], [80, 80]]))
    assert row.endswith("completed · short day · own pace · interrupted 2 times, away 3 minutes")


def test_one_interruption_is_called_once(seen):
    assert seen(session_event(gaps=[[30, 1]]))[0].endswith("· interrupted once, away 1 second")


@pytest.mark.parametrize(
    ("seconds", "told_as"),
    [
        (59, "59 seconds"),
        (90 * 60, "1 hour and 30 minutes"),
        (3599, "1 hour"),
        (6 * 3600, "6 hours"),
        (7261, "2 hours and 1 minute"),
    ],
)
def test_a_long_absence_is_told_in_hours_and_minutes(seen, seconds, told_as):
    assert seen(session_event(gaps=[[30, seconds]]))[0].endswith(f"· interrupted once, away {told_as}")


def test_each_arm_has_its_number(seen_of_two):
    both = session_event(arms=("left", "right"))
    both["body"]["arms"]["left"]["worst"], both["body"]["arms"]["right"]["worst"] = None, 4
    assert seen_of_two(both) == ["Sun 8 Mar 2026 Both arms worst right 4 · left no number completed"]


def test_one_arm_where_two_are_asked_is_called_only(seen_of_two):
    assert " Left arm only worst 2 completed" in seen_of_two(session_event(arms=("left",)))[0]


def test_one_arm_that_was_reached_before_a_stop_is_not_called_only(seen_of_two):
    assert " Right arm worst 2 stopped early" in seen_of_two(session_event(**STOP))[0]


def test_before_sport_and_both_arms_at_once_have_words(seen_of_two):
    [row] = seen_of_two(session_event(arms=("right", "left"), ways=["before_sport", "both"]))
    assert row.endswith("completed · before sport · both arms at once")


def test_of_two_arms_the_sharp_one_is_named(seen_of_two):
    stop = session_event(arms=("right", "left"), ended="sharp")
    stop["body"]["arms"]["left"]["sharp"] = True
    assert "stopped for sharp pain: left" in seen_of_two(stop)[0]


def test_no_session_is_said(hedda):
    assert "No session in these days." in hedda.open("/practice/cases/ansgar0001").text


def test_fourteen_days_back_and_no_further(site):
    days = [TODAY - timedelta(days=back) for back in (0, 14, 15)]
    site.begin(site.founder, [session_event(seq, on) for seq, on in enumerate(days, 1)])
    versions = routines.of_client(site.db, site.founder.id)
    shown = session_rows(site.db, site.founder.id, versions, TODAY, 14)
    assert [row.session.on for row in shown] == days[:2]


def test_a_clock_that_stood_ahead_does_not_put_its_session_first(seen):
    assert len(seen(session_event(1), session_event(2, date(2091, 5, 4)))) == 1


@pytest.mark.parametrize(("macro", "codes"), [("place", kinds.SHARP_PLACES), ("feel", kinds.SHARP_FEELS)])
def test_every_answer_has_words_of_its_own(site, macro, codes):
    page = "{% import 'case/sharp.html' as words with context %}{{ words[macro](code) }}"
    with site.app.test_request_context("/practice"):
        template = site.app.jinja_env.from_string(page)
        said = {template.render(macro=macro, code=code, locale="en-XA").strip() for code in codes}
    assert len(said) == len(codes)
    assert all(each.startswith("[") for each in said)
