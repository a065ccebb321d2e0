"""Other entries of the phones on the case page: loads that the client marked, and notes that the client read."""

from datetime import timedelta

from tests import builders
from tests.cast import FIRST_DAY
from webapp.practice.case.days import DAYS_OF_LOADS, loads_of
from webapp.records import routines

CASE = "/practice/cases/ansgar0001"
TODAY = builders.date(2026, 3, 9)


def _marked(on, load, seq, minutes=None, **more):
    return builders.event("exposure_noted", on, {"what": load, "minutes": minutes, **more}, seq=seq)


def _push_note(site, note):
    newest = routines.latest(site.db, site.founder.id)
    pushed = routines.push(site.db, site.founder.id, newest.routine, newest.settings, note, site.hedda.id, site.clock())
    received = builders.event("routine_received", TODAY, {"version": pushed.version, "bundle": ""}, seq=901)
    site.receive(site.founder, [received])
    return pushed.version


def test_what_the_client_marked_stands_on_the_case_page_by_day(site, hedda):
    yesterday = TODAY - timedelta(days=1)
    site.begin(
        site.founder,
        [
            _marked(TODAY, "desk", 10, 390),
            _marked(yesterday, "lifting", 11, 1),
            _marked(yesterday, "sport", 12, name="Climbing", begins="18:30", planned=True),
        ],
    )
    hedda.open(CASE)
    assert (
        "Mon 9 Mar 2026 long desk day, 390 minutes Sun 8 Mar 2026 sport: Climbing (planned); lifting, 1 minute"
        in hedda.text
    )


def test_a_mark_that_was_taken_back_is_gone(site, hedda):
    mark = _marked(TODAY, "sport", 10)
    site.begin(site.founder, [mark])
    hedda.open(CASE)
    assert "Mon 9 Mar 2026 sport" in hedda.text
    taken_back = builders.event("entry_corrected", TODAY, {"replaces": mark["id"], "body": None}, seq=11)
    site.receive(site.founder, [taken_back])
    hedda.open(CASE)
    assert "None marked on the phone." in hedda.text


def test_a_load_marked_on_two_phones_is_one_load_with_the_longer_time(site):
    site.begin(
        site.founder, [_marked(TODAY, "desk", 10, 20), _marked(TODAY, "desk", 11, 50), _marked(TODAY, "desk", 12)]
    )
    assert loads_of(site.db, site.founder.id, TODAY) == [(TODAY, [("desk", "", 50, False)])]


def test_marks_of_fourteen_days_are_listed_and_no_older_ones(site):
    days = [TODAY - timedelta(days=number) for number in range(DAYS_OF_LOADS + 1)]
    site.begin(site.founder, [_marked(on, "sport", seq) for seq, on in enumerate(days, 10)])
    assert [on for on, _ in loads_of(site.db, site.founder.id, TODAY)] == days[:-1]


def test_days_away_are_told_as_the_client_told_them_and_what_happened_stands_out(site, hedda):
    first, last = TODAY - timedelta(days=9), TODAY - timedelta(days=1)
    body = {"first": first.isoformat(), "last": last.isoformat(), "what": "ill", "happened": ["fever", "medicine"]}
    site.begin(site.founder, [builders.event("away_noted", TODAY, body, seq=10)])
    hedda.open(CASE)
    assert "Sat 28 Feb 2026 – Sun 8 Mar 2026 ill. Meanwhile: a new medicine, fever" in hedda.text


def test_a_late_morning_and_more_than_soreness_stand_with_the_number(site, hedda):
    yesterday = TODAY - timedelta(days=1)
    report = builders.morning(yesterday, 3, seq=11)
    arms = {"right": {**report["body"]["arms"]["right"], "besides": True}}
    late = {**report, "body": {"arms": arms, "late": True}}
    site.begin(site.founder, [builders.session(yesterday - timedelta(days=1), 1, seq=10), late])
    hedda.open(CASE)
    assert "3 late more than sore" in hedda.text


def test_the_receipt_says_on_which_day_the_note_was_first_read(site, hedda):
    site.begin(site.founder, [])
    version = _push_note(site, "Slowly down.")
    hedda.open(CASE)
    assert "note not read yet" in hedda.text
    readings = [
        builders.event("note_read", TODAY + timedelta(days=day), {"version": version}, seq=20 + day) for day in (1, 0)
    ]
    site.receive(site.founder, readings)
    hedda.open(CASE)
    assert "note read on Mon 9 Mar 2026" in hedda.text
    assert "note not read yet" not in hedda.text


def test_a_version_without_a_note_has_no_word_about_reading(site, hedda):
    site.begin(site.founder, [builders.event("note_read", FIRST_DAY, {"version": 1}, seq=20)])
    hedda.open(CASE)
    assert "note read" not in hedda.text
    assert "note not read" not in hedda.text


def test_the_preview_says_that_a_note_which_the_push_puts_away_is_not_read(site, hedda):
    site.begin(site.founder, [])
    version = _push_note(site, "Slowly down.")
    assert f"The note of version {version} has not been read yet." in _previewed(hedda)
    site.receive(site.founder, [builders.event("note_read", TODAY, {"version": version}, seq=20)])
    assert "has not been read yet" not in _previewed(hedda)


def _previewed(hedda):
    hedda.open(f"{CASE}/routine")
    hedda.fill("/routine", {"step": "preview", "goal_reps": "15"}, post_to=f"{CASE}/routine")
    return hedda.text
