"""The routine: the desk where it is edited, the preview of a change, the push, and the rehearsal."""

from flask import Blueprint

from webapp.practice.routine import offering, page, rehearsal, several, withdrawing

blueprint = Blueprint("routine", __name__)
blueprint.route("/cases/<public_id>/routine", methods=["GET", "POST"])(page.edit)
blueprint.post("/cases/<public_id>/versions/<int:version>/withdraw")(withdrawing.withdraw)
blueprint.route("/cases/<public_id>/versions/<int:version>/others", methods=["GET", "POST"])(several.push_to_several)
blueprint.route("/cases/<public_id>/versions/<int:version>/offer", methods=["GET", "POST"])(offering.offer)
blueprint.get("/routines")(offering.every_offered)
blueprint.post("/routines/withdraw")(offering.withdraw_offered)
blueprint.get("/cases/<public_id>/rehearsal/<int:version>")(rehearsal.rehearse)
