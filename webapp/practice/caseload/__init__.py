"""The caseload: the practitioner's clients, one line each, the most urgent first."""

from flask import Blueprint

from webapp.practice.caseload import page

blueprint = Blueprint("caseload", __name__)
blueprint.get("")(page.show)
blueprint.get("/")(page.show_with_slash)
