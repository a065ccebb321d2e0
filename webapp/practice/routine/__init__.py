"""The routine: the desk where it is edited, the preview of a change, the push, and the rehearsal."""

from flask import Blueprint

from webapp.practice.routine import page, rehearsal

blueprint = Blueprint("routine", __name__)
blueprint.route("/cases/<public_id>/routine", methods=["GET", "POST"])(page.edit)
blueprint.get("/cases/<public_id>/rehearsal/<int:version>")(rehearsal.rehearse)
