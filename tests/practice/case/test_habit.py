"""The one habit: chosen at the routine desk, ticked on the phone, and told of on the case page."""

from tests import builders
from tests.cast import BELL_FOUNDER
from webapp.library.habits import the_habits
from webapp.library.routine import starter
from webapp.records import events, routines
from webapp.records.database import write
from webapp.sync.bundle.bundle import make_stored_bundle

CASE = "/practice/cases/ansgar0001"
DESK = f"{CASE}/routine"
TODAY = builders.date(2026, 3, 9)


def _push(hedda, **changes):
    hedda.open(DESK)
    hedda.fill("/routine", {"step": "preview", **changes}, post_to=DESK)
    return hedda.fill("/routine", {"step": "push"}, post_to=DESK)


def _choose(site, hedda, habit):
    _push(hedda, habit=habit)


def test_a_chosen_habit_goes_to_the_log_and_its_days_come_back(site, hedda):
    site.begin(site.founder, [])
    _choose(site, hedda, "warmth")
    assert "Warmth for a stiff arm" in hedda.text
    noted = builders.event("habit_noted", TODAY, {"habit": "warmth", "kept": True}, seq=50)
    (choice,) = events.latest_of(site.db, site.founder.id, ("habit_chosen",), -1)
    body = {"habit": "warmth", "kept": False, "suits": False, "chosen": choice.id}
    unsuited = builders.event("habit_noted", TODAY, body, seq=51)
    site.receive(site.founder, [noted])
    hedda.open(CASE)
    assert "Mon 9 Mar 2026 done" in hedda.text
    assert "does not suit them" not in hedda.text
    site.receive(site.founder, [unsuited])
    hedda.open(CASE)
    assert "does not suit them" in hedda.text


def test_the_habit_can_be_taken_away_and_an_unknown_one_is_refused(site, hedda):
    site.begin(site.founder, [])
    _choose(site, hedda, "sleep")
    assert "No phone has it yet" in hedda.text
    with write(site.db):
        site.db.execute("UPDATE devices SET cursor = 99 WHERE client = ?", (site.founder.id,))
    hedda.open(CASE)
    assert "A phone has it." in hedda.text
    _choose(site, hedda, "")
    assert "None chosen." in hedda.text
    hedda.open(DESK)
    assert hedda.fill("/routine", {"step": "preview", "habit": "cure"}, post_to=DESK).status_code == 400


def test_a_habit_alone_makes_no_new_version_and_leaves_the_note(site, hedda):
    site.begin(site.founder, [])
    _push(hedda, note="Slowly.", goal_reps="15")
    hedda.open(DESK)
    hedda.fill("/routine", {"step": "preview", "habit": "sleep"}, post_to=DESK)
    assert "Habit from nothing to " in hedda.text
    assert "Only the habit changes, so there is no new version." in hedda.text
    assert "has not been read yet" not in hedda.text
    hedda.fill("/routine", {"step": "push"}, post_to=DESK)
    assert "The habit is chosen." in hedda.text
    newest = routines.latest(site.db, site.founder.id)
    assert (newest.version, newest.note) == (2, "Slowly.")


def test_a_habit_and_a_change_go_in_one_push(site, hedda):
    site.begin(site.founder, [])
    _push(hedda, habit="warmth", goal_reps="15")
    assert routines.latest(site.db, site.founder.id).version == 2
    assert len(events.of_kind(site.db, site.founder.id, "habit_chosen")) == 1


def test_a_habit_chosen_twice_is_chosen_once_and_another_windows_choice_is_noticed(site, hedda):
    site.begin(site.founder, [])
    hedda.open(DESK)
    hedda.fill("/routine", {"step": "preview", "habit": "sleep"}, post_to=DESK)
    sleep = {**hedda.form("/routine").to_dict(flat=False), "step": ["push"]}
    hedda.open(DESK)
    hedda.fill("/routine", {"step": "preview", "habit": "warmth"}, post_to=DESK)
    warmth = {**hedda.form("/routine").to_dict(flat=False), "step": ["push"]}
    for _ in range(2):
        assert hedda.send(DESK, sleep).status_code == 303
    assert routines.latest(site.db, site.founder.id).version == 1
    assert hedda.send(DESK, warmth).status_code == 409
    assert "Another habit was chosen while this page was open" in hedda.text
    assert len(events.of_kind(site.db, site.founder.id, "habit_chosen")) == 1
    hedda.fill("/routine", {"step": "push"}, post_to=DESK)
    assert len(events.of_kind(site.db, site.founder.id, "habit_chosen")) == 2


def test_every_habit_goes_with_the_bundle_with_a_caution_and_what_it_rests_on():
    bundle = make_stored_bundle(starter("outer_elbow"), BELL_FOUNDER.settings, 1, "", "en")
    assert list(bundle["habits"]) == sorted(the_habits())
    assert all(habit["caution"] and habit["basis"] for habit in bundle["habits"].values())
    # What is known from memory only is never shown to a client as a fact.
    assert not [habit.id for habit in the_habits().values() for source in habit.sources if source.mark == "memory"]
