"""The phone's side over HTTP: door, joining, the cached shell and its assets, the sync endpoint.

Decides no dose and speaks no SQL; every look-up is keyed by the client behind the phone's cookie.
"""

from flask import Blueprint

blueprint = Blueprint("client", __name__)

from webapp.client import api, invited, pages, shell  # noqa: E402, F401 - each adds its routes to the blueprint
