"""The caseload: the practitioner's clients, one line each, the most urgent first."""

from flask import Blueprint

from webapp.practice.caseload import marking, page

blueprint = Blueprint("caseload", __name__)
blueprint.get("")(page.show)
blueprint.get("/")(page.show_with_slash)
blueprint.route("/cases/<public_id>/seen", methods=["GET", "POST"])(marking.mark)
blueprint.post("/cases/<public_id>/seen/back")(marking.take_back)
