"""The practitioner's site over HTTP: signing in, caseload, case, routine desk.

Decides no dose and speaks no SQL. Every page but signing in asks for a practitioner, who sees
their own clients and nobody else's.
"""

from flask import Blueprint

blueprint = Blueprint("practice", __name__)

from webapp.practice import (  # noqa: E402, F401 - each adds its routes to the blueprint
    case,
    caseload,
    door,
    hold,
    intake,
    offers,
    phones,
    rehearsal,
    routine,
    show,
)
