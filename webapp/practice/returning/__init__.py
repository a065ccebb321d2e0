"""The way back to a sport or to work at the desk: the gate, opening, the course of it, and ending."""

from flask import Blueprint

from webapp.practice.returning import page

blueprint = Blueprint("returning", __name__)
blueprint.get("/cases/<public_id>/way-back")(page.show_way)
blueprint.post("/cases/<public_id>/way-back/open")(page.open_way)
blueprint.post("/cases/<public_id>/way-back/end")(page.end_way)
blueprint.add_app_template_global(page.way_today)
