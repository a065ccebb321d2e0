"""The routine desk: a form with the newest version, a preview in plain words, a push that changes no old version."""

import json

import pytest

from tests import builders
from webapp.records import routines
from webapp.records.database import write
from webapp.sync.folding.fold import accounts_of
from webapp.sync.log.take import take_batch

DESK = "/practice/cases/ansgar0001/routine"
FIRST = builders.date(2026, 3, 2)


def _preview(hedda, **changes):
    hedda.open(DESK)
    return hedda.fill("/routine", {"step": "preview", **changes}, post_to=DESK)


def _push(hedda, **changes):
    _preview(hedda, **changes)
    return hedda.fill("/routine", {"step": "push"}, post_to=DESK)


def _versions(site):
    return routines.of_client(site.db, site.founder.id)


def _follow_first_version(site) -> None:
    device = site.join_phone(site.founder)
    sent = [builders.event("routine_received", FIRST, {"version": 1, "bundle": ""}, seq=900)]
    sent += builders.days_of(FIRST, [(2, 1)] * 7)
    take_batch(site.db, site.founder.id, device, [json.dumps(event).encode() for event in sent], site.clock())


def test_the_desk_holds_the_newest_version_and_every_bound(hedda):
    hedda.open(DESK)
    entries = hedda.form("/routine")
    assert entries["title"] == "Outer elbow: daily wrist work"
    assert (entries["low_reps"], entries["rise"], entries["weights"]) == ("8", "0.25", "1 lb; 2 lb; 3 lb")
    for text in (
        "5 to 15 reps",
        "10 to 30 reps",
        "3 to 7 settled days",
        "7 to 14 settled days",
        "5 to 14 settled days",
        "1 to 6 seconds",
        "0 to 5 of 10",
    ):
        assert text in hedda.text


def test_a_push_makes_the_next_version_and_leaves_the_one_before_as_it_was(site, hedda):
    before = _versions(site)[0]
    _push(hedda, goal_reps="15", note="Fewer reps for now.", weights="1; 2; 3; 4 lb", weights_unit="lb")
    newest, first = _versions(site)
    assert first == before
    assert (newest.version, newest.note, newest.received_on) == (2, "Fewer reps for now.", None)
    assert newest.routine["tuning"]["goal_reps"] == 15
    assert newest.settings["weights_kg"] == [0, 0.4536, 0.9072, 1.3608, 1.8144]
    assert newest.routine["tuning"]["low_reps"] == first.routine["tuning"]["low_reps"]
    assert "Version 2 is on its way" in hedda.text


def test_the_preview_says_in_words_what_changes_and_pushes_nothing(site, hedda):
    _preview(hedda, goal_reps="15", usual="3", direction_1="palm_down", direction_2="palm_up", fingers_reps="12")
    for text in (
        "Most reps from 20 to 15",
        "Usual morning pain from 2 to 3",
        "Order of movements from Palm up, Palm down, Little finger up, Thumb up to Palm down, Palm up, Little",
        "Reps, open and close the fingers from 10 to 12",
    ):
        assert text in hedda.text
    assert "Fewest reps from" not in hedda.text
    assert len(_versions(site)) == 1


def test_the_preview_says_where_each_arm_carries_on(site, hedda):
    _follow_first_version(site)
    state = accounts_of(site.db, site.founder.id, builders.date(2026, 3, 9))["right"].state
    _preview(hedda, climb_days="4")
    assert f"Right arm: on rung {state.rung} today; carries on at rung {state.rung}" in hedda.text


def test_a_version_may_begin_on_a_given_rung_and_the_fold_follows(site, hedda):
    _follow_first_version(site)
    _preview(hedda, start_rung_right="2")
    assert "begins this version on rung 2" in hedda.text
    hedda.fill("/routine", {"step": "push"}, post_to=DESK)
    received = builders.event("routine_received", builders.date(2026, 3, 9), {"version": 2, "bundle": ""}, seq=901)
    device = site.join_phone(site.founder)
    take_batch(site.db, site.founder.id, device, [json.dumps(received).encode()], site.clock())
    account = accounts_of(site.db, site.founder.id, builders.date(2026, 3, 9))["right"]
    assert (account.version, account.state.rung) == (2, 2)


def test_pushing_again_carries_on_unless_a_rung_is_given_anew(site, hedda):
    _push(hedda, start_rung_right="2")
    hedda.open(DESK)
    assert hedda.form("/routine")["start_rung_right"] == "2", "no phone has a routine yet: it still begins there"
    assert "Nothing differs from version 2" in _preview(hedda).get_data(as_text=True)
    received = builders.event("routine_received", builders.date(2026, 3, 2), {"version": 2, "bundle": ""}, seq=900)
    site.receive(site.founder, [received])
    hedda.open(DESK)
    assert hedda.form("/routine")["start_rung_right"] == "", "the arm has begun, and stays where it stands"


def test_a_jump_that_reps_cannot_bridge_is_named_with_a_weight_that_would(site, hedda):
    _preview(hedda, weights="1 kg", goal_reps="20")
    assert "From no weight to 1 kg is a jump." in hedda.text
    assert "A weight of 0.15 to 0.54 kg in between bridges it (0.4 to 1.1 lb)" in hedda.text
    assert "so does a bottle with ½ l of water: ½ kg, without the bottle." in hedda.text
    assert "The ladder ends below the jump." in hedda.text


@pytest.mark.parametrize(
    ("weights", "is_bridged"),
    [
        ("0.14 kg; 1 kg", False),
        ("0.15 kg; 1 kg", True),
        ("0.54 kg; 1 kg", True),
        ("0.55 kg; 1 kg", False),
        ("0.4 lb; 1 kg", True),
        ("1.1 lb; 1 kg", True),
    ],
)
def test_just_the_weights_named_do_bridge_the_jump(hedda, weights, is_bridged):
    _preview(hedda, weights=weights)
    assert ("is a jump" in hedda.text) is not is_bridged


def test_a_jump_that_too_few_reps_would_follow_says_how_few(hedda):
    _preview(hedda, weights="2 kg")
    assert "2 kg could begin with at most 4 reps. That is under the fewest reps, 8." in hedda.text


def test_a_jump_that_no_single_weight_bridges_says_so(hedda):
    _preview(hedda, weights="2.4 kg", goal_reps="12")
    assert "From no weight to 2.4 kg is a jump." in hedda.text
    assert "No single weight in between bridges it: two are needed" in hedda.text


def test_a_jump_is_taken_on_only_in_so_many_words(site, hedda):
    _preview(hedda, weights="1 kg")
    hedda.fill("/routine", {"step": "preview", "accepted_jumps": ["1.0"]}, post_to=DESK)
    assert "I accept the jump to 1 kg as it is." in hedda.text
    assert "The practitioner accepts the jump, so the ladder goes on above it." in hedda.text
    assert "The ladder ends below the jump." not in hedda.text
    hedda.fill("/routine", {"step": "push"}, post_to=DESK)
    assert _versions(site)[0].routine["tuning"]["accepted_jumps_kg"] == [1.0]


def test_a_push_of_what_was_not_previewed_shows_the_preview_first(site, hedda):
    _preview(hedda, goal_reps="15")
    answer = hedda.fill("/routine", {"step": "push", "goal_reps": "30"}, post_to=DESK)
    assert answer.status_code == 409
    assert "The entries changed after the preview" in hedda.text
    assert len(_versions(site)) == 1


def test_a_push_over_a_version_that_came_meanwhile_is_held_up(site, hedda):
    _preview(hedda, goal_reps="15")
    mine = hedda.form("/routine")
    _push(hedda, goal_reps="18")
    answer = hedda.send(DESK, [*mine.items(multi=True), ("step", "push")])
    assert answer.status_code == 409
    assert "Version 2 was pushed while this page was open" in hedda.text
    assert len(_versions(site)) == 2


def test_a_page_that_was_only_opened_offers_nothing_to_push_even_where_the_version_has_a_note(site, hedda):
    _push(hedda, goal_reps="15", note="Fewer reps for now.")
    hedda.open(DESK)
    assert "Nothing differs from version 2" in hedda.text
    assert "Push version" not in hedda.text


def test_a_first_version_can_be_pushed_from_the_page_as_it_is_opened(site, hedda):
    with write(site.db):
        site.db.execute("DELETE FROM routine_versions WHERE client = ?", (site.founder.id,))
    hedda.open(DESK)
    assert hedda.fill("/routine", {"step": "push"}, post_to=DESK).status_code == 200
    assert [version.version for version in _versions(site)] == [1]


def test_the_same_routine_again_is_not_offered_for_pushing(hedda):
    _preview(hedda)
    assert "Nothing differs from version 1" in hedda.text
    assert "Push version" not in hedda.text


def test_the_preview_stands_beside_the_form_with_what_was_typed(hedda):
    _preview(hedda, goal_reps="15", note="Slowly down.")
    entries = hedda.form("/routine")
    assert (entries["goal_reps"], entries["note"]) == ("15", "Slowly down.")


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"title": ""}, "Title: this is needed"),
        ({"low_reps": "4"}, 'Fewest reps: "4" is out of range; it must be from 5 to 15 reps'),
        ({"rise": "0,5"}, 'Rise of one step: "0,5" is out of range; it must be from 0.1 to 0.3 of the day\'s work'),
        ({"low_reps": "12", "goal_reps": "12"}, "Fewest reps: 12 must be under the most reps, 12"),
        ({"low_reps": "5", "rise": "0.1"}, "Rise of one step: 0.1 does not allow one rep more than 5"),
        ({"hold_shortest_seconds": "45", "hold_longest_seconds": "30"}, "45 seconds are over the longest, 30 seconds"),
        ({"up_seconds": "fast"}, 'Up: "fast" is not a number'),
        ({"direction_1": "palm_down"}, "Each of the four directions must come once"),
        ({"direction_1": "somersault"}, 'First movement: "somersault" is not among the choices'),
        ({"stretches": ["palm_down"]}, 'Stretches: "palm_down" is not among the choices'),
        ({"warm_ups": ["palm_down"]}, 'Warm-ups: "palm_down" is not among the choices'),
        ({"fingers_reps": "0"}, 'Reps: "0" is out of range; it must be from 1 to 50 reps'),
        ({"usual": "6"}, 'Usual morning pain: "6" is out of range; it must be from 0 to 5 of 10'),
        ({"start_rung_right": "0"}, 'Rung, right arm: "0" is out of range; it must be from 1 to 200'),
        ({"start_rung_right": "150"}, "Rung, right arm: 150 is out of range; it must be from 1 to"),
        ({"weights": "; ".join(str(n / 10) for n in range(1, 22))}, "There are 22 weights; give from 1 to 20"),
        ({"area": "knee"}, 'Sore area: "knee" is not among the choices'),
    ],
)
def test_a_fault_at_the_desk_is_named_and_nothing_is_pushed(site, hedda, changes, sentence):
    assert _preview(hedda, **changes).status_code == 400
    assert sentence in hedda.text
    assert len(_versions(site)) == 1


def test_a_first_version_starts_from_the_area_and_the_intake(site, hedda):
    site.db.execute("DELETE FROM routine_versions WHERE client = ?", [site.founder.id])
    site.db.conn.commit()
    hedda.open(DESK)
    assert "Choose the routine" in hedda.text
    assert hedda.form("/routine")["weights"] == "1 lb; 2 lb; 3 lb"
    _push(hedda)
    assert [version.version for version in _versions(site)] == [1]
