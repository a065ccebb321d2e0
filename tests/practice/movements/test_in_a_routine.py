"""An own movement in a client's routine: chosen, pushed as a copy, kept until its newest version is taken."""

import pytest

from tests import builders
from tests.cast import FIRST_DAY
from tests.own_movements import AT_THE_WALL, OVER_A_ROLL
from webapp.records import movements, routines
from webapp.sync.bundle.plans import plan_of

DESK = "/practice/cases/ansgar0001/routine"


@pytest.fixture
def roll(site):
    return movements.make(site.db, site.hedda.practice, OVER_A_ROLL, site.hedda.id, "roll", site.clock())


@pytest.fixture
def wall(site):
    return movements.make(site.db, site.hedda.practice, AT_THE_WALL, site.hedda.id, "wall", site.clock())


def place_of(entries, movement):
    return next(name for name, value in entries.items() if name.startswith("direction_") and value == movement)


def previewed(hedda, path=DESK, **changes):
    hedda.open(path)
    return hedda.fill("/routine", {"step": "preview", **changes}, post_to=path)


def pushed(hedda, **changes):
    return hedda.fill("/routine", {"step": "push", **changes}, post_to=DESK)


def with_roll(hedda, roll, **changes):
    """Put the own lift where the shipped one is, look, and push."""
    hedda.open(DESK)
    field = place_of(hedda.form("/routine"), "palm_down")
    previewed(hedda, **{field: f"own-{roll}", **changes})
    return pushed(hedda)


def newest_of(site):
    return routines.of_client(site.db, site.founder.id)[0]


def changed(site, roll, **other):
    return movements.change(
        site.db, site.hedda.practice, roll, {**OVER_A_ROLL, **other}, site.hedda.id, 1, site.clock()
    )


def test_an_own_lift_takes_the_place_of_the_shipped_one(site, hedda, roll):
    with_roll(hedda, roll)
    routine = newest_of(site).routine
    assert [(each["id"], each["version"], each["name"]) for each in routine["own"]] == [(roll, 1, OVER_A_ROLL["name"])]
    assert sorted(routine["directions"]) == ["little_finger_up", "palm_down", "palm_up", "thumb_up"]
    assert [lift.movement for lift in plan_of(newest_of(site)).routine.own] == ["palm_down"]


def test_the_preview_names_it(hedda, roll):
    hedda.open(DESK)
    assert "Palm down over a roll (own, like Palm down)" in hedda.text
    previewed(hedda, **{place_of(hedda.form("/routine"), "palm_down"): f"own-{roll}"})
    assert "Palm down over a roll" in hedda.text.partition("Changes from version 1")[2]


def test_the_shipped_lift_and_the_own_one_of_its_direction_are_one_too_many(site, hedda, roll):
    hedda.open(DESK)
    field = place_of(hedda.form("/routine"), "palm_up")
    assert previewed(hedda, **{field: f"own-{roll}"}).status_code == 400
    assert "one of them is chosen twice" in hedda.text
    assert len(routines.of_client(site.db, site.founder.id)) == 1


def test_an_own_stretch_stands_beside_the_shipped_ones(site, hedda, wall):
    hedda.open(DESK)
    stretches = ["stretch_palm_down", f"own-{wall}"]
    previewed(hedda, stretches=stretches)
    pushed(hedda)
    assert newest_of(site).routine["stretches"] == stretches
    assert newest_of(site).routine["own"][0]["id"] == wall


def test_a_later_change_changes_no_routine_until_it_is_taken(site, hedda, roll):
    with_roll(hedda, roll)
    changed(site, roll, name="Over the towel")
    hedda.open(DESK)
    assert "Take the newest version of “Palm down over a roll”: 2 instead of 1." in hedda.text
    previewed(hedda, note="Only a note.")
    pushed(hedda)
    assert newest_of(site).routine["own"][0]["name"] == "Palm down over a roll"
    previewed(hedda, newest_of=roll)
    assert "Palm down over a roll, version 1" in hedda.text
    assert "Over the towel, version 2" in hedda.text
    pushed(hedda)
    assert (newest_of(site).version, newest_of(site).routine["own"][0]["name"]) == (4, "Over the towel")


def test_a_retired_movement_stays_with_the_routine_that_uses_it_and_is_not_offered_anew(site, hedda, roll, wall):
    with_roll(hedda, roll)
    for each in (roll, wall):
        movements.set_retired(site.db, site.hedda.practice, each, site.clock())
    hedda.open(DESK)
    assert "Palm down over a roll (own" in hedda.text
    assert "Palm at the wall" not in hedda.text
    previewed(hedda, note="A note.")
    pushed(hedda)
    assert newest_of(site).routine["own"][0]["id"] == roll


@pytest.mark.parametrize("value", ["own-" + "f" * 20, "own-", "own-<b>"])
def test_a_movement_that_is_not_the_practice_s_is_a_fault(site, hedda, roll, value):
    assert roll
    hedda.open(DESK)
    field = place_of(hedda.form("/routine"), "palm_down")
    assert previewed(hedda, **{field: value}).status_code == 400
    assert "is not among the choices" in hedda.text
    assert len(routines.of_client(site.db, site.founder.id)) == 1


def test_another_practice_s_movement_is_not_offered(site, hedda, roll):
    with site.db.conn:
        site.db.execute("INSERT INTO practices (id, name) VALUES (77, 'Elsewhere')")
        site.db.execute("UPDATE movements SET practice = 77")
    hedda.open(DESK)
    assert "Palm down over a roll" not in hedda.text
    assert previewed(hedda, direction_1=f"own-{roll}").status_code == 400


def test_going_from_a_small_arc_to_the_whole_one_is_shown_as_the_rise_that_it_is(site, hedda):
    small = {**OVER_A_ROLL, "arc": {"arc_up": 28, "arc_down": 18}}
    own = movements.make(site.db, site.hedda.practice, small, site.hedda.id, "small", site.clock())
    with_roll(hedda, own)
    received = builders.event("routine_received", FIRST_DAY, {"version": 2, "bundle": ""}, seq=900)
    site.receive(site.founder, [received, *builders.days_of(FIRST_DAY, [(2, 1)] * 6)])
    hedda.open(DESK)
    field = place_of(hedda.form("/routine"), f"own-{own}")
    previewed(hedda, **{field: "palm_down"})
    assert "The work of a day rises by" in hedda.text


@pytest.mark.parametrize(
    ("morning", "said"), [(6, "carries on at rung"), (8, "After that it lifts more than before the hold")]
)
def test_a_wider_arc_soon_after_a_flare_or_a_stop_is_not_pushed_without_a_tick(site, hedda, morning, said):
    small = {**OVER_A_ROLL, "arc": {"arc_up": 28, "arc_down": 18}}
    own = movements.make(site.db, site.hedda.practice, small, site.hedda.id, "small", site.clock())
    with_roll(hedda, own)
    received = builders.event("routine_received", FIRST_DAY, {"version": 2, "bundle": ""}, seq=900)
    site.receive(site.founder, [received, *builders.days_of(FIRST_DAY, [(2, 1)] * 5 + [(morning, 2)])])
    hedda.open(DESK)
    field = place_of(hedda.form("/routine"), f"own-{own}")
    previewed(hedda, **{field: "palm_down"})
    shown = hedda.text
    assert pushed(hedda).status_code == 409
    assert said in shown
    assert "never raises a held arm" not in shown
    assert len(routines.of_client(site.db, site.founder.id)) == 2
    assert pushed(hedda, rises_taken_on="right").status_code == 200
    assert len(routines.of_client(site.db, site.founder.id)) == 3


def test_the_case_page_calls_it_by_its_name(site, hedda, roll):
    with_roll(hedda, roll)
    received = builders.event("routine_received", FIRST_DAY, {"version": 2, "bundle": ""}, seq=900)
    site.receive(site.founder, [received, *builders.days_of(FIRST_DAY, [(2, 1)] * 6)])
    hedda.open("/practice/cases/ansgar0001")
    assert "palm down over a roll" in hedda.text


def test_the_movement_s_page_names_who_has_it_and_in_which_version(site, hedda, roll):
    with_roll(hedda, roll)
    changed(site, roll, name="Over the towel")
    hedda.open(f"/practice/movements/{roll}")
    assert "Ansgar" in hedda.text
    assert "not the newest" in hedda.text
