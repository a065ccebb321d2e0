"""The records themselves: clients carried out, and how long they are kept."""

from functools import partial

from flask import Blueprint

from webapp.practice.records import bringing, carrying, page
from webapp.practice.records.bringing import MOST_BYTES

__all__ = ["MOST_BYTES", "blueprint"]

blueprint = Blueprint("records", __name__)
blueprint.route("/records", methods=["GET", "POST"])(page.show_records)
blueprint.get("/records/bring")(bringing.show_bringing)
blueprint.post("/records/bring")(bringing.bring)
for form in carrying.OF_ALL:
    carry_practice = partial(carrying.carry_practice, form=form)
    blueprint.add_url_rule(f"/records/practice.{form}", f"carry_practice_{form}", carry_practice)
    carry_all = partial(carrying.carry_all, form=form)
    blueprint.add_url_rule(f"/records/clients.{form}", f"carry_all_{form}", carry_all)
for form in carrying.OF_ONE:
    carry_one = partial(carrying.carry_one, form=form)
    blueprint.add_url_rule(f"/cases/<public_id>/records.{form}", f"carry_one_{form}", carry_one)
