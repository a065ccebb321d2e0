"""A look at what entries would do, without scripts: they are kept as a draft, and the answer redirects to a page that shows it.

So every page in the browser's history has an address of its own, and going back after a push never asks to send a form again.
"""

from flask import abort, g, redirect, request, url_for
from flask_wtf.csrf import generate_csrf
from werkzeug.datastructures import MultiDict
from werkzeug.wrappers import Response

from webapp.practice import desk
from webapp.records import drafts
from webapp.records.cases import Case

BY_SCRIPT = "by_script"
"""The entry by which the page's script says that it shows the answer in its own page, which leaves the history as it is."""
NOT_KEPT = frozenset({"csrf_token", "previewed", "shown"})
LONGEST = 20_000


def drafted(case: Case) -> MultiDict[str, str] | None:
    """Return the draft that the address names, as if it had been sent; None for another address, and for one that is gone."""
    key = request.args.get("draft", "") if request.method == "GET" else ""
    found = drafts.find(desk.records(), desk.signed_in().id, case.id, key) if key else None
    if found is None:
        return None
    entries = MultiDict([*found, ("csrf_token", generate_csrf())])
    g.drafted = entries
    return entries


def step() -> str:
    """Return what is asked for: "push", "preview", "weeks", or "" for none of them."""
    sent: MultiDict[str, str] = g.get("drafted") or request.form
    return sent.get("step", "")


def is_to_keep() -> bool:
    """Whether the entries are to be kept for a look."""
    return request.method == "POST" and step() != "push" and BY_SCRIPT not in request.form


def keep(case: Case) -> Response:
    """Keep the entries, and redirect to the page that shows what they would do."""
    entries = [each for each in request.form.items(multi=True) if each[0] not in NOT_KEPT]
    if sum(len(name) + len(value) for name, value in entries) > LONGEST:
        abort(413)
    key = drafts.keep(desk.records(), desk.signed_in().id, case.id, entries, desk.now())
    desk.nothing_done()
    start = request.args.get("start")
    return redirect(
        url_for("practice.routine.edit", public_id=case.public_id, start=start, draft=key, _anchor="does"), 303
    )
