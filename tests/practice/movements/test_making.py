"""A practitioner makes a movement of the practice's own, changes it and retires it; a colleague may; another practice may not."""

import pytest

from tests.own_movements import OVER_A_ROLL
from webapp.records import history, movements

NEW = "/practice/movements/new?like=palm_down"
WRITTEN = {
    "name": "Palm down over a roll",
    "how": "Lay the forearm on a rolled towel.\r\n\r\n  Let the hand hang over the roll, and lift it slowly.  ",
    "mistakes": "Do not press the elbow into the table.",
    "purpose": "For an elbow that is sore where it lies on the table.",
    "leave_out": "Leave it out while the roll presses on the sore point.",
    "cue_start": "Forearm on the roll.",
    "cue_up": "Lift",
    "cue_down": "Slowly let it sink",
    "arc_up": "40",
    "arc_down": "20",
    "up_seconds": "2",
    "down_seconds": "5",
    "cautions_read": "yes",
}


def looked_at(visitor, path=NEW, **changes):
    """Open the form and look at it, filled in."""
    visitor.open(path)
    return visitor.fill(path, {**WRITTEN, **changes}, post_to=path)


def saved(visitor, path=NEW, **changes):
    """Press save, after looking; changes come after the look."""
    return visitor.fill(path, {**changes, "step": "save"}, post_to=path, follow=False)


def own_of(site):
    return movements.of_practice(site.db, site.hedda.practice)


@pytest.fixture
def roll(site, hedda):
    looked_at(hedda)
    assert saved(hedda).status_code == 303
    return own_of(site)[0].public_id


def test_what_a_new_movement_is_like_is_chosen_by_a_link(hedda):
    hedda.open("/practice/movements/new")
    assert hedda.page.text.count("/practice/movements/new?like=") == 10
    hedda.open("/practice/movements/new?like=nothing")
    assert "What is it like?" in hedda.text


def test_the_form_begins_with_the_words_the_arc_and_the_times_of_the_shipped_movement(hedda):
    hedda.open(NEW)
    first = hedda.form(NEW)
    assert first["name"] == ""
    assert first["how"].splitlines()[0].startswith("Lay the forearm on a table")
    assert (first["arc_up"], first["arc_down"], first["up_seconds"], first["down_seconds"]) == ("55", "35", "2", "3")


def test_a_movement_is_looked_at_and_then_saved(site, hedda):
    looked_at(hedda)
    assert "So the client reads it" in hedda.text
    assert own_of(site) == []
    assert saved(hedda).status_code == 303
    (own,) = own_of(site)
    assert own.content == OVER_A_ROLL
    assert own.by == site.hedda.name


def test_going_back_to_the_look_shows_it_and_nobody_else_reads_it(site, hedda):
    looked_at(hedda)
    address = hedda.page.request.full_path
    assert "draft=" in address
    saved(hedda)
    hedda.open(address)
    assert "So the client reads it" in hedda.text
    site.db.execute("UPDATE movement_drafts SET practitioner = (SELECT id FROM practitioners WHERE id <> practitioner)")
    site.db.conn.commit()
    hedda.open(address)
    assert "So the client reads it" not in hedda.text


def test_going_back_after_the_first_save_and_writing_on_changes_what_was_made(site, hedda):
    looked_at(hedda)
    back = hedda.page.request.full_path
    saved(hedda)
    for name, version in (("Over two rolls", 2), ("Over three rolls", 3)):
        hedda.open(back)
        hedda.fill(NEW, {"name": name}, post_to=NEW)
        if version > 2:
            assert saved(hedda).status_code == 409
            assert "saved version 2" in hedda.text
        assert saved(hedda).status_code == 303
        (own,) = own_of(site)
        assert (own.content["name"], own.version) == (name, version)


def test_a_save_without_a_look_is_shown_first(site, hedda):
    hedda.open(NEW)
    answer = hedda.fill(NEW, {**WRITTEN, "step": "save"}, post_to=NEW, follow=False)
    assert answer.status_code == 409
    assert own_of(site) == []
    assert saved(hedda).status_code == 303


def test_pressing_save_twice_makes_one_movement(site, hedda):
    looked_at(hedda)
    entries = hedda.form(NEW)
    for _ in range(2):
        assert (
            hedda.send(NEW, [*entries.items(multi=True), ("step", "save"), ("cautions_read", "yes")]).status_code == 303
        )
    assert len(own_of(site)) == 1


@pytest.mark.parametrize(
    ("entry", "typed", "said"),
    [
        ("name", "", "this is needed"),
        ("name", "x " * 26 + "x", "53 characters are too many; there may be at most 50"),
        ("name", "W" * 31, "is too long for a small screen"),
        ("cue_up", "up\x07", "a sign that cannot be shown (U+0007)"),
        ("purpose", "turned \u202e round", "a sign that cannot be shown (U+202E)"),
        ("how", "1\n2\n3\n4\n5", "write 1 to 4 lines, each for itself; there are 5"),
        ("arc_up", "56", "out of range; it must be from 28 to 55 degrees"),
        ("down_seconds", "9", "out of range"),
        ("down_seconds", "soon", "is not a number"),
        ("cautions_read", [], "this is needed"),
    ],
)
def test_a_fault_stands_beside_its_entry_and_what_was_typed_stays(site, hedda, entry, typed, said):
    assert looked_at(hedda, **{entry: typed}).status_code == 400
    assert said in hedda.text
    assert f'id="{entry}-fault"' in hedda.page.text
    assert hedda.form(NEW)["purpose"] == (typed if entry == "purpose" else WRITTEN["purpose"])
    assert own_of(site) == []


def test_markup_in_a_name_is_only_letters(site, hedda):
    looked_at(hedda, name="<b>Bold</b> & quick")
    assert "<b>Bold" not in hedda.page.text
    assert saved(hedda).status_code == 303
    hedda.open("/practice/movements")
    assert "&lt;b&gt;Bold&lt;/b&gt; &amp; quick" in hedda.page.text


def test_the_shipped_cautions_always_show_beside_the_own_one(hedda):
    path = "/practice/movements/new?like=stretch_palm_up"
    hedda.open(path)
    hedda.fill(path, {"name": "My stretch", "leave_out": "Mine.", "cautions_read": "yes"}, post_to=path)
    look = hedda.text.partition("So the client reads it")[2].partition("Its words")[0]
    assert "Leave this stretch out while the hand or the fingers tingle" in look
    assert look.index("tingle") < look.index("Mine.")


def test_a_change_is_a_new_version_with_its_maker(site, hedda, roll):
    path = f"/practice/movements/{roll}/change"
    looked_at(hedda, path, name="Over the towel")
    assert saved(hedda, path).status_code == 303
    hedda.open(f"/practice/movements/{roll}")
    assert "version 2" in hedda.text
    assert hedda.text.count(f"by {site.hedda.name}") == 2


def test_a_change_on_top_of_a_change_is_noticed_and_keeps_what_was_typed(site, hedda, roll):
    path = f"/practice/movements/{roll}/change"
    looked_at(hedda, path, name="Mine")
    movements.change(
        site.db, site.hedda.practice, roll, {**OVER_A_ROLL, "name": "Hers"}, site.hedda.id, 1, site.clock()
    )
    assert saved(hedda, path).status_code == 409
    assert "saved version 2" in hedda.text
    assert hedda.form(path)["name"] == "Mine"
    assert saved(hedda, path).status_code == 303
    assert [each.content["name"] for each in movements.versions_of(site.db, site.hedda.practice, roll)][:2] == [
        "Mine",
        "Hers",
    ]


def test_a_retired_movement_is_listed_apart_and_can_be_offered_again(hedda, roll):
    hedda.open(f"/practice/movements/{roll}")
    hedda.fill("/retire", {}, post_to=f"/practice/movements/{roll}/retire")
    assert "is retired" in hedda.text
    hedda.open("/practice/movements")
    assert "Retired: no longer offered" in hedda.text
    hedda.open(f"/practice/movements/{roll}")
    hedda.fill("/offer", {}, post_to=f"/practice/movements/{roll}/offer")
    hedda.open("/practice/movements")
    assert "Retired: no longer offered" not in hedda.text


def test_retiring_needs_the_page_s_own_token(site, hedda, roll):
    hedda.send(f"/practice/movements/{roll}/retire", {})
    assert own_of(site)[0].retired_at is None


def test_another_practice_gets_what_an_unknown_id_gets(site, hedda, roll):
    with site.db.conn:
        site.db.execute("INSERT INTO practices (name) VALUES ('Elsewhere')")
        site.db.execute(
            "UPDATE movements SET practice = (SELECT id FROM practices WHERE name = 'Elsewhere') WHERE public_id = ?",
            (roll,),
        )
    for path in ("", "/change"):
        assert hedda.open(f"/practice/movements/{roll}{path}").status_code == 404
    for act in ("retire", "offer", "change"):
        assert hedda.send(f"/practice/movements/{roll}/{act}", {}).status_code == 404


def test_the_history_says_who_made_it(site, hedda, roll):
    assert roll
    assert "practice.movements.make" in {
        deed.act for deed in history.of_practice(site.db, site.hedda.practice, 10**9, 50)
    }
