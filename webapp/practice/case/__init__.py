"""One client: the case page, the account of their days, adding a client, phones, letters, a release, an offer taken up."""

from flask import Blueprint

from webapp.practice.case import (
    acting,
    answering,
    archiving,
    arrival,
    decisions,
    deleting,
    intake,
    naming,
    page,
    phones,
    setting_course,
    writing_notes,
)
from webapp.practice.case.acts import correcting

blueprint = Blueprint("case", __name__)
blueprint.route("/add", methods=["GET", "POST"])(intake.add_client)
blueprint.post("/add/name")(intake.add_by_name)
blueprint.route("/cases/<public_id>/intake", methods=["GET", "POST"])(intake.confirm)
blueprint.route("/cases/<public_id>/intake/correct", methods=["GET", "POST"])(correcting.correct_intake)
blueprint.get("/cases/<public_id>")(page.show)
blueprint.get("/cases/<public_id>/account")(page.account)
blueprint.post("/cases/<public_id>/release")(decisions.release_hold)
blueprint.post("/cases/<public_id>/start")(decisions.clear_start)
blueprint.post("/cases/<public_id>/offer")(decisions.take_up_offer)
blueprint.post("/cases/<public_id>/course")(setting_course.set_course)
blueprint.post("/cases/<public_id>/rest")(acting.rest)
blueprint.post("/cases/<public_id>/by-hand/<act>")(acting.set_by_hand)
blueprint.post("/cases/<public_id>/letters")(answering.answer)
blueprint.post("/cases/<public_id>/letters/seen")(answering.mark_seen)
blueprint.route("/cases/<public_id>/delete", methods=["GET", "POST"])(deleting.delete)
blueprint.post("/cases/<public_id>/archive")(archiving.put_away)
blueprint.post("/cases/<public_id>/archive/back")(archiving.take_back)
blueprint.post("/cases/<public_id>/notes")(writing_notes.write_note)
blueprint.post("/cases/<public_id>/notes/<int:note>/strike")(writing_notes.strike_note)
blueprint.post("/cases/<public_id>/activities")(naming.name_activities)
blueprint.post("/cases/<public_id>/invite")(phones.invite)
blueprint.get("/cases/<public_id>/invitation")(phones.show_invitation)
blueprint.get("/cases/<public_id>/arrival", endpoint="show_arrival")(arrival.show)
blueprint.get("/cases/<public_id>/arrival.json", endpoint="tell_arrival")(arrival.tell)
blueprint.post("/cases/<public_id>/invitations/<int:invitation>/withdraw")(phones.withdraw_invitation)
blueprint.post("/cases/<public_id>/phones/<device>/confirm")(phones.confirm_phone)
blueprint.post("/cases/<public_id>/phones/<device>/revoke")(phones.revoke_phone)
