"""The records themselves: clients carried out, and how long they are kept."""

from flask import Blueprint

from webapp.practice.records import carrying, page

blueprint = Blueprint("records", __name__)
blueprint.route("/records", methods=["GET", "POST"])(page.show_records)
blueprint.get("/records/clients.<form>")(carrying.carry_all)
blueprint.get("/cases/<public_id>/records.<form>")(carrying.carry_one)
