"""Group invitations: a link for a class or an audience, and the group as counts."""

from flask import Blueprint

from webapp.practice.groups import making, page

blueprint = Blueprint("groups", __name__)
blueprint.get("/groups")(page.every_group)
blueprint.route("/groups/add", methods=["GET", "POST"])(making.add)
blueprint.get("/groups/<group_id>")(page.show)
blueprint.get("/groups/<group_id>/arrivals.json")(page.tell_arrivals)
blueprint.get("/groups/<group_id>/slip")(page.show_slip)
blueprint.post("/groups/<group_id>/close")(page.close)
