"""A look at an own movement before it is saved: the entries are kept as a draft, and the answer redirects to a page that shows it.

So every page in the browser's history has an address of its own, and going back never asks to send a form again.
"""

from flask import abort, redirect, request, url_for
from flask_wtf.csrf import generate_csrf
from werkzeug.datastructures import MultiDict
from werkzeug.wrappers import Response

from webapp.practice import desk
from webapp.records import movement_drafts

NOT_KEPT = frozenset({"csrf_token", "looked_at", "step"})
LONGEST = 20_000


def drafted() -> MultiDict[str, str] | None:
    """Return the draft that the address names, as if it had been sent; None for another address, and for one that is gone."""
    key = request.args.get("draft", "") if request.method == "GET" else ""
    found = movement_drafts.find(desk.records(), desk.signed_in().id, key) if key else None
    return None if found is None else MultiDict([*found, ("csrf_token", generate_csrf())])


def is_look() -> bool:
    """Whether the page shows a draft."""
    return drafted() is not None


def keep() -> Response:
    """Keep the entries, and redirect to the page that shows what the client would read."""
    entries = [each for each in request.form.items(multi=True) if each[0] not in NOT_KEPT]
    if sum(len(name) + len(value) for name, value in entries) > LONGEST:
        abort(413)
    key = movement_drafts.keep(desk.records(), desk.signed_in().id, entries, desk.now())
    desk.nothing_done()
    values = {**(request.view_args or {}), "like": request.args.get("like"), "draft": key}
    return redirect(url_for(str(request.endpoint), **values), 303)
