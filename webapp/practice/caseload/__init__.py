"""Who needs me: the practitioner's clients, one line each."""

from flask import Blueprint

from webapp.practice.caseload import page

blueprint = Blueprint("caseload", __name__)
blueprint.get("")(page.show)
blueprint.get("/")(page.show_with_slash)
