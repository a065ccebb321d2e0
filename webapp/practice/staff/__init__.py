"""The practice: its name and its bounds, who works there, who comes and who leaves, who hands a client over, who did what."""

from flask import Blueprint

from webapp.practice.staff import account_history, colleagues, handing, page, roles

blueprint = Blueprint("staff", __name__)
blueprint.route("/staff", methods=["GET", "POST"])(page.show)
blueprint.route("/staff/add", methods=["GET", "POST"])(colleagues.add)
blueprint.get("/staff/<int:colleague>")(colleagues.show_colleague)
blueprint.post("/staff/<int:colleague>/link")(colleagues.link)
blueprint.get("/staff/<int:colleague>/link")(colleagues.show_link)
blueprint.post("/staff/<int:colleague>/remove")(colleagues.remove)
blueprint.post("/staff/<int:colleague>/make-owner")(roles.make_owner)
blueprint.post("/staff/<int:colleague>/make-member")(roles.make_member)
blueprint.post("/staff/<int:colleague>/hand-over")(handing.hand_over_of)
blueprint.get("/staff/history")(account_history.show_history)
blueprint.route("/cases/<public_id>/hand-over", methods=["GET", "POST"])(handing.hand_over)
blueprint.post("/cases/<public_id>/hand-over/seen")(handing.see)
