"""The few pages outside the app: the door, the invitation's landing page, and the way out of a stuck app.

None of them touches a session; each is plain HTML, kept by no cache.
"""

from flask import Response, render_template, request

from webapp.client import blueprint
from webapp.client.bearer import service


@blueprint.get("/")
def door() -> Response:
    """Ask who is there: a client or a practitioner."""
    return _page("outside/front.html")


@blueprint.get("/join")
def join() -> Response:
    """Receive somebody who was invited; the token is in the fragment, which no server sees."""
    return _page("outside/join.html")


@blueprint.get("/app/recover")
def recover() -> Response:
    """Offer to take the app apart without touching what was written in it."""
    return _page("outside/recover.html")


def chosen_locale() -> str:
    """Give the language of ours that the browser likes best."""
    offered = service().settings.locales
    return request.accept_languages.best_match(offered) or offered[0]


def _page(template: str) -> Response:
    response = Response(render_template(template, locale=chosen_locale()), mimetype="text/html")
    response.headers["Cache-Control"] = "no-store"
    return response
