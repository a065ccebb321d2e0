"""The phone's side over HTTP: the front page, joining, the cached shell and its assets, the sync endpoint.

Decides no dose and speaks no SQL. Every look-up is for the client whom the phone's cookie stands for.
"""

from flask import Blueprint

blueprint = Blueprint("client", __name__)

from webapp.client import api, feed, invited, pages, shell  # noqa: E402, F401 - each adds its routes to the blueprint
