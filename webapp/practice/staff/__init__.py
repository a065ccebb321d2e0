"""The practice: its name and its bounds, who works there, who comes and who leaves."""

from flask import Blueprint

from webapp.practice.staff import colleagues, page

blueprint = Blueprint("staff", __name__)
blueprint.route("/staff", methods=["GET", "POST"])(page.show)
blueprint.route("/staff/add", methods=["GET", "POST"])(colleagues.add)
blueprint.get("/staff/<int:colleague>")(colleagues.show_colleague)
blueprint.post("/staff/<int:colleague>/link")(colleagues.link)
blueprint.post("/staff/<int:colleague>/remove")(colleagues.remove)
