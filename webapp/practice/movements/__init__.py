"""Movements of the practice's own beside those that come with the program: making, changing, retiring them."""

from flask import Blueprint

from webapp.practice.movements import making, page

blueprint = Blueprint("movements", __name__)
blueprint.get("/movements")(page.every_movement)
blueprint.route("/movements/new", methods=["GET", "POST"])(making.make)
blueprint.get("/movements/<movement_id>")(page.show)
blueprint.route("/movements/<movement_id>/change", methods=["GET", "POST"])(making.change)
blueprint.post("/movements/<movement_id>/retire")(page.retire)
blueprint.post("/movements/<movement_id>/offer")(page.offer)
