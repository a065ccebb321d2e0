"""The few pages outside the app: the front page, the page for an invitation's link, and the page that repairs a stuck app.

No page touches a session. Each is plain HTML, and caches must not keep it.
"""

from typing import cast

from flask import Response, g, render_template, request

from webapp.client import blueprint
from webapp.client.bearer import service
from webapp.words import consent


@blueprint.get("/")
def door() -> Response:
    """Show the front page, which asks whether the visitor is a client or a practitioner."""
    return _page("outside/front.html")


@blueprint.get("/join")
def join() -> Response:
    """Show the page for an invitation's link; the token is in the fragment, which browsers do not send.

    The link may name the client's language.
    """
    named = request.args.get("locale", "")
    return _page("outside/join.html", named if named in service().settings.locales else chosen_locale())


@blueprint.get("/app/recover")
def recover() -> Response:
    """Show the page that removes the app's cached files, but no entries of the client."""
    return _page("outside/recover.html")


def chosen_locale() -> str:
    """Return the language of the answer: that of the phone's batch, else the served one that the browser prefers."""
    offered = service().settings.locales
    return cast("str", g.get("phone_locale")) or request.accept_languages.best_match(offered, offered[0])


def _page(template: str, locale: str = "") -> Response:
    response = Response(
        render_template(template, locale=locale or chosen_locale(), consent=consent), mimetype="text/html"
    )
    response.headers["Cache-Control"] = "no-store"
    return response
