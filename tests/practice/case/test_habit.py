"""The one habit: chosen on the case page, ticked on the phone, and told of on the case page."""

from tests import builders
from tests.cast import BELL_FOUNDER
from webapp.library.habits import the_habits
from webapp.library.routine import starter
from webapp.records import events
from webapp.sync.bundle.bundle import make_stored_bundle

CASE = "/practice/cases/ansgar0001"
TODAY = builders.date(2026, 3, 9)


def _choose(site, hedda, habit):
    hedda.open(CASE)
    hedda.fill("/habit", {"habit": habit}, post_to=f"{CASE}/habit")


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
    _choose(site, hedda, "")
    assert "None chosen." in hedda.text
    assert hedda.fill("/habit", {"habit": "cure"}, post_to=f"{CASE}/habit").status_code == 400


def test_a_habit_chosen_twice_is_chosen_once_and_another_windows_choice_is_noticed(site, hedda):
    site.begin(site.founder, [])
    hedda.open(CASE)
    old = hedda.form("/habit")
    for habit, said in (
        ("sleep", "The habit is chosen."),
        ("sleep", "The habit is chosen."),
        ("warmth", "nothing was changed"),
    ):
        hedda.send(f"{CASE}/habit", {**old.to_dict(), "habit": habit}, follow=True)
        assert said in hedda.text
    assert 'class="notice"><svg class="icon icon-fault"' in hedda.page.text
    assert len(events.of_kind(site.db, site.founder.id, "habit_chosen")) == 1


def test_every_habit_goes_with_the_bundle_with_a_caution_and_what_it_rests_on():
    bundle = make_stored_bundle(starter("outer_elbow"), BELL_FOUNDER.settings, 1, "", "en")
    assert list(bundle["habits"]) == sorted(the_habits())
    assert all(habit["caution"] and habit["basis"] for habit in bundle["habits"].values())
    # What is known from memory only is never shown to a client as a fact.
    assert not [habit.id for habit in the_habits().values() for source in habit.sources if source.mark == "memory"]
