"""The few pages outside the app: the front page, the page for an invitation's link, and the page that repairs a stuck app.

No page touches a session. Each is plain HTML, and caches must not keep it.
"""

from flask import Response, render_template, request

from webapp.client import blueprint
from webapp.client.bearer import service


@blueprint.get("/")
def door() -> Response:
    """Show the front page, which asks whether the visitor is a client or a practitioner."""
    return _page("outside/front.html")


@blueprint.get("/join")
def join() -> Response:
    """Show the page for an invitation's link; the token is in the fragment, which browsers do not send."""
    return _page("outside/join.html")


@blueprint.get("/app/recover")
def recover() -> Response:
    """Show the page that removes the app's cached files, but no entries of the client."""
    return _page("outside/recover.html")


def chosen_locale() -> str:
    """Return the served language that the browser prefers."""
    offered = service().settings.locales
    return request.accept_languages.best_match(offered) or offered[0]


def _page(template: str) -> Response:
    response = Response(render_template(template, locale=chosen_locale()), mimetype="text/html")
    response.headers["Cache-Control"] = "no-store"
    return response
