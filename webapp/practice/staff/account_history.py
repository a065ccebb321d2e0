"""The page of who did what, when: a member reads their own, an owner everybody's."""

from flask import render_template, request

from webapp.practice import desk
from webapp.records import history
from webapp.words.history import deed_text

ON_A_PAGE = 200
LATEST = 1 << 53


def show_history() -> str:
    """Show the latest deeds, or those before the one that the address names."""
    me = desk.signed_in()
    before = min(max(0, request.args.get("before", LATEST, type=int)), LATEST)
    only = None if me.is_owner else me.id
    deeds = history.of_practice(desk.records(), me.practice, before, ON_A_PAGE + 1, only)
    return render_template(
        "staff/history.html",
        deeds=[(deed, deed_text(desk.words(), deed.act)) for deed in deeds[:ON_A_PAGE]],
        earlier=deeds[ON_A_PAGE - 1].id if len(deeds) > ON_A_PAGE else 0,
    )
