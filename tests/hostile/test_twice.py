"""Every form of the desk is sent to one address, from whatever page it stands on; and pressed twice it changes nothing twice."""

import re
from typing import Any

from tests.hostile.forms import rules_of
from tests.hostile.texts import urlencoded
from tests.hostile.world import Sent, World
from webapp.practice.door.page import NOT_KEPT

TYPED = {
    "activity_1": "Turning a key", "archive_despite": "yes", "archive_reason": "Gone.", "area": "wrist", "arms": "right", "by_hand_note": "Slower now.",
    "clients": "otti000001",
    "confirmed": "yes", "course": "maintenance", "correction_reason": "Measured anew.", "course_reason": "Enough.", "days_a_week": "3", "email": "new@marrow.example",
    "end_reason": "The season is over.", "habit": "warmth", "handing_reason": "I am away.", "height_m": "170", "kind": "link",
    "mass_kg": "70", "name": "Nela", "offered_as": "For a wrist", "private_note": "Rang.", "reason": "It is calm.", "rest_reason": "A fever.",
    "rest_until": "2026-03-20", "screened": "yes", "sex": "female", "sheet_signs": "yes", "started_unseen": "yes",
    "text": "A letter.", "usual": "2", "weights": "1; 2", "worst_left_6": "2",
}  # fmt: skip
"""What a practitioner types, by the name of the entry without its prefix."""
CHOSEN = {"chosen", "to"}
"""Entries of which the first choice of the page is taken."""
OTHER_TRIALS = {
    "practice.case.delete", "practice.door.change_password", "practice.door.forget_recovery_code", "practice.door.sign_in", "practice.door.welcome", "practice.movements.change",
    "practice.movements.make", "practice.movements.offer", "practice.paper.bring_table", "practice.records.bring",
    "practice.returning.open_way", "practice.routine.edit", "practice.routine.push_to_several",
}  # fmt: skip
"""Acts that need more than one form; tests of their own send them twice."""
ANEW = {
    "practice.case.invite": {"invitations", "history"},
    "practice.caseload.mark": {"history"},
    "practice.door.account": {"history"},
    "practice.records.show_records": {"history"},
    "practice.staff.link": {"password_links", "password_events", "history"},
    "practice.staff.show": {"history"},
}
"""Acts that a second press does anew, and where that is seen: each link is shown once, and what is stored is stored again."""
NOT_FOUND = {
    "practice.door.sign_in", "practice.door.forget_recovery_code", "practice.movements.make", "practice.movements.offer",
}  # fmt: skip
"""Acts whose form no page shows to who is signed in, or only after another act or a choice."""
DERIVED = {"bundles", "folded", "glances", "guidance", "summaries"}
DONE = {200, 303}


def _typed(world: World, sent: Sent) -> bytes:
    entries = dict(sent.form.entries)
    for name in sent.form.names:
        short = name.rpartition("-")[2]
        if short in CHOSEN:
            entries[name] = _first_choice(world, sent.path, name)
        elif short in TYPED:
            entries[name] = TYPED[short]
    return urlencoded(list(entries.items()))


def _first_choice(world: World, path: str, name: str) -> str:
    """Return the first choice of a list on the page of an address, or on the page above where that has none of its own."""
    page = world.ask(path)
    if page.status_code >= 400:
        page = world.ask(path.rpartition("/")[0])
    shown = re.search(rf'<select id="{name}".*?</select>', page.text, re.DOTALL)
    return next(filter(None, re.findall(r'value="([^"]*)"', shown.group() if shown else "")), "")


def _kept(world: World) -> dict[str, Any]:
    return {name: rows for name, rows in world.content().items() if name not in DERIVED}


def _act_twice(world: World, sent: Sent) -> tuple[bool, int, set[str]]:
    """Send a form twice; return whether the first did something, the second answer, and the tables that the second changed."""
    entries, at_first = _typed(world, sent), _kept(world)
    status, once = world.ask(sent.path, "POST", entries).status_code, _kept(world)
    again = world.ask(sent.path, "POST", entries).status_code if status in DONE and once != at_first else 0
    twice = _kept(world)
    world.put_back()
    return again > 0, again, {name for name, rows in twice.items() if rows != once[name]}


def test_each_form_has_one_address_and_changes_nothing_twice(world):
    site = world.site.app.url_map.bind("127.0.0.1")
    addresses: dict[frozenset[str], set[str]] = {}
    done = {}
    for sent in world.forms():
        if sent.form.method != "post":
            continue
        endpoint = site.match(sent.path, "POST")[0]
        addresses.setdefault(sent.form.names, set()).add(endpoint)
        assert sent.form.names & NOT_KEPT <= {"csrf_token", "step"}, (
            "where the sign-in has ended, all that is typed is kept"
        )
        if endpoint not in done and endpoint not in OTHER_TRIALS:
            has_acted, again, changed = _act_twice(world, sent)
            if has_acted:
                done[endpoint] = (again, changed)
    assert {names for names, found in addresses.items() if len(found) > 1 and names != {"csrf_token"}} == set()
    acts = {rule.endpoint for rule in rules_of(world.site.app, "POST") if rule.endpoint.startswith("practice.")}
    assert acts - set.union(*addresses.values()) == NOT_FOUND, "every other form is found on some page"
    assert acts - OTHER_TRIALS == set(done), "every act was done once"
    assert {endpoint: changed for endpoint, (_, changed) in done.items() if changed} == ANEW
    assert {endpoint for endpoint, (again, _) in done.items() if again == 404} == set()
