"""A form without its token, or from another site, changes nothing, and the typed entries are not lost."""

import re

import pytest

from tests.cast import HEDDA
from webapp.records import cases, derived, routines

BUTTONS = ("/practice/cases/ansgar0001/invite", "/practice/cases/ansgar0001/phones/any/revoke")
FORMS = ("/practice/add", "/practice/cases/ansgar0001/routine")
NAMED = {"public_id": "ansgar0001", "act": "rest", "group_id": "any", "token": "any"}
"""What stands in an address for each of its parts; for every other part a 1."""


def _everything(site) -> str:
    """All rows but those of sign-ins, which note when they were seen, and of caches, which a look fills."""
    tables = [row[0] for row in site.db.execute("SELECT name FROM sqlite_master WHERE type = 'table'").fetchall()]
    return repr(
        [
            (name, site.db.execute(f"SELECT * FROM {name}").fetchall())
            for name in tables
            if name not in {"practitioner_sessions", *derived.TABLES}
        ]
    )


def test_every_form_of_the_site_is_refused_without_its_token(site, hedda):
    rules = [
        rule
        for rule in site.app.url_map.iter_rules()
        if rule.endpoint.startswith("practice.") and "POST" in rule.methods
    ]
    assert len(rules) >= 7
    phone = site.join_phone(site.founder)
    before = _everything(site)
    for rule in rules:
        path = re.sub(r"<(?:int:)?(\w+)>", lambda part: {**NAMED, "device": phone}.get(part[1], "1"), rule.rule)
        hedda.send(
            path, {"right-arm": "right", "right-rung": "1", "right-confirmed": "yes", "kind": "link", "step": "push"}
        )
        assert _everything(site) == before, rule
    assert hedda.open("/practice").status_code == 200, "signing out needs the token too"


@pytest.mark.parametrize("path", [*BUTTONS, *FORMS])
def test_a_form_from_another_site_is_refused(hedda, path):
    hedda.open("/practice/add")
    answer = hedda.send(path, hedda.form(), **{"Sec-Fetch-Site": "cross-site"})
    assert answer.status_code == 403


def test_a_stale_token_at_the_intake_loses_nothing_that_was_typed(site, hedda):
    hedda.open("/practice/add")
    hedda.fill(
        "",
        {"csrf_token": "stale", "name": "Ida Brook", "weights": "½ kg; 1 kg", "note": "bell ringer"},
        post_to="/practice/add",
    )
    assert hedda.page.status_code == 400
    assert "Please send it once more" in hedda.text
    kept = hedda.form("")
    assert (kept["name"], kept["weights"], kept["note"]) == ("Ida Brook", "½ kg; 1 kg", "bell ringer")
    assert kept["csrf_token"] != "stale"
    assert len(cases.of_practitioner(site.db, site.hedda.id)) == 2


def test_a_stale_token_at_the_routine_desk_loses_nothing_that_was_typed(site, hedda):
    path = "/practice/cases/ansgar0001/routine"
    hedda.open(path)
    hedda.fill("/routine", {"csrf_token": "stale", "goal_reps": "17", "note": "Slowly down."}, post_to=path)
    assert hedda.page.status_code == 400
    assert "Please send it once more" in hedda.text
    assert hedda.form("/routine")["goal_reps"] == "17"
    assert hedda.form("/routine")["note"] == "Slowly down."
    assert len(routines.of_client(site.db, site.founder.id)) == 1


def test_a_button_with_a_stale_token_says_to_press_it_again(site, hedda):
    hedda.open("/practice/cases/ansgar0001")
    hedda.fill("/invite", {"csrf_token": "stale", "kind": "link"}, post_to="/practice/cases/ansgar0001/invite")
    assert "press the button once more" in hedda.text


def test_a_token_of_before_signing_in_is_no_good_behind_the_door(site):
    visitor = site.visitor()
    visitor.open("/practice/sign-in")
    before = visitor.form()["csrf_token"]
    visitor.sign_in(HEDDA.email, HEDDA.password)
    visitor.open("/practice/add")
    answer = visitor.fill("", {"csrf_token": before, "name": "Ida Brook"}, post_to="/practice/add")
    assert "Please send it once more" in visitor.text
    assert answer.status_code == 400
