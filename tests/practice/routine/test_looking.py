"""A look at what entries would do, without scripts: every step has a page of its own, so going back never sends a form again."""

from datetime import timedelta

from tests.practice.conftest import Site
from tests.practice.visitor import Visitor
from webapp.practice.routine.form import TEMPO, TUNING
from webapp.records import drafts, routines

DESK = "/practice/cases/ansgar0001/routine"
CHANGED = {
    "low_reps": 9, "goal_reps": 18, "rise": 0.2, "settled_during": 2, "widen_days": 4, "climb_days": 4, "heavier_days": 8,
    "fast_heavier_days": 6, "top_share": 0.3, "first_week_sessions": 1, "hold_shortest_seconds": 30,
    "hold_longest_seconds": 40, "prepare_seconds": 6, "up_seconds": 3, "down_seconds": 5, "rest_seconds": 40,
    "change_arm_seconds": 12,
}  # fmt: skip


def look(visitor: Visitor, step: str = "preview", **changes: str) -> str:
    """Send the form for a look; return the address that the browser is sent to."""
    visitor.open(DESK)
    answer = visitor.fill("/routine", {"step": step, **changes}, post_to=DESK, follow=False)
    assert answer.status_code == 303
    return str(answer.headers["Location"])


def drafts_in(site: Site) -> int:
    return int(site.db.execute("SELECT COUNT(*) FROM drafts").fetchone()[0])


def test_a_look_is_a_page_with_an_address_which_holds_what_was_typed_and_what_it_would_do(site, hedda):
    address = look(hedda, goal_reps="15", note="Fewer for now.")
    for _ in range(2):
        page = hedda.open(address)
        assert page.status_code == 200
        assert "Most reps from 20 to 15" in hedda.text
        assert hedda.form("/routine")["note"] == "Fewer for now."
    assert site.db.execute("SELECT COUNT(*) FROM history").fetchone()[0] == 0


def test_going_back_after_the_push_shows_a_page_and_what_was_looked_at_is_gone(site, hedda):
    address = look(hedda, goal_reps="15")
    hedda.open(address)
    assert hedda.fill("/routine", {"step": "push"}, post_to=DESK, follow=False).status_code == 303
    assert [each.version for each in routines.of_client(site.db, site.founder.id)] == [2, 1]
    assert drafts_in(site) == 0
    assert hedda.open(address).status_code == 200
    assert hedda.form("/routine")["based_on"] == "2"
    assert "Nothing differs from version 2" in hedda.text


def test_the_weeks_ahead_have_an_address_too(site, hedda):
    address = look(hedda, "weeks", goal_reps="15")
    hedda.open(address)
    assert hedda.page.status_code == 200
    assert "Most reps from 20 to 15" in hedda.text


def test_a_draft_with_a_fault_is_answered_at_once_and_not_kept(site, hedda):
    hedda.open(DESK)
    assert hedda.fill("/routine", {"step": "preview", "goal_reps": "99"}, post_to=DESK).status_code == 400
    assert hedda.form("/routine")["goal_reps"] == "99"
    assert drafts_in(site) == 0


def test_a_draft_is_read_by_nobody_else(site, hedda):
    address = look(hedda, goal_reps="15")
    with site.db.conn:
        site.db.execute("UPDATE drafts SET practitioner = practitioner + 1")
    assert "Most reps from" not in hedda.open(address).text


def test_drafts_of_more_than_a_day_ago_are_deleted_with_the_next_one(site):
    client = site.founder.id
    drafts.keep(site.db, site.hedda.id, client, [("title", "Old")], site.clock())
    drafts.keep(site.db, site.hedda.id, client, [("title", "New")], site.clock() + timedelta(hours=25))
    assert drafts_in(site) == 1


def test_a_page_based_on_an_earlier_version_is_not_pushed_over_a_colleague_s(site, hedda):
    address = look(hedda, goal_reps="15")
    first = routines.latest(site.db, site.founder.id)
    later = site.clock() + timedelta(minutes=1)
    routines.push(site.db, site.founder.id, first.routine, first.settings, "Meanwhile.", site.hedda.id, later)
    hedda.open(address)
    answer = hedda.fill("/routine", {"step": "push"}, post_to=DESK)
    assert answer.status_code == 409
    assert routines.latest(site.db, site.founder.id).note == "Meanwhile."


def test_a_push_of_what_the_client_has_already_makes_no_version(site, hedda):
    look(hedda)
    hedda.open(DESK)
    hedda.fill("/routine", {"step": "push"}, post_to=DESK)
    assert "Nothing differs from version 1, so nothing was pushed." in hedda.text
    assert routines.latest(site.db, site.founder.id).version == 1


def test_a_body_that_was_corrected_between_the_look_and_the_push_is_looked_at_again(site, hedda):
    with site.db.conn:
        site.db.execute("DELETE FROM routine_versions WHERE client = ?", (site.founder.id,))
    hedda.open(look(hedda, goal_reps="15"))
    with site.db.conn:
        heavier = "UPDATE clients SET intake = json_set(intake, '$.mass_kg', 95) WHERE id = ?"
        site.db.execute(heavier, (site.founder.id,))
    assert hedda.fill("/routine", {"step": "push"}, post_to=DESK).status_code == 409
    assert routines.latest(site.db, site.founder.id) is None
    assert hedda.fill("/routine", {"step": "push"}, post_to=DESK).status_code == 200
    assert routines.latest(site.db, site.founder.id).settings["mass_kg"] == 95


def test_the_difference_of_each_number_is_told_by_its_name(hedda):
    hedda.open(DESK)
    form = hedda.form("/routine")
    changes = {name: str(CHANGED[name]) for name in (*TUNING, *TEMPO)}
    assert [name for name, value in changes.items() if float(form[name]) == float(value)] == []
    hedda.open(look(hedda, **changes))
    listed = hedda.page.text.partition('class="differences"')[2].partition("</ul>")[0]
    assert listed.count("<li>") == len(changes)
    assert not [name for name in changes if name in listed], "each by its name in words"
