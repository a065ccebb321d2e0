"""The practitioner's site over HTTP: signing in, the caseload, the case page, the routine desk.

Decides no dose and speaks no SQL. Every page except the sign-in page is for a practitioner who has signed in. A
practitioner sees only their own clients; an owner also the names of the others.
"""

from flask import Blueprint

from webapp.practice import (
    case,
    caseload,
    door,
    groups,
    history,
    movements,
    paper,
    records,
    returning,
    routine,
    show,
    staff,
)
from webapp.practice.door import page as door_page

MOST_AT = {"/practice/records/bring": records.MOST_BYTES}
"""The longest body of addresses that take more than a form, by path."""

blueprint = Blueprint("practice", __name__)
blueprint.record_once(door_page.keep_tokens)
blueprint.before_request(door_page.let_in)
blueprint.before_request(history.begin)
blueprint.after_request(door_page.keep_out_of_caches)
blueprint.after_request(history.keep)
blueprint.context_processor(show.every_page)
for write in show.FILTERS:
    blueprint.add_app_template_filter(write)
for wing in (door, caseload, case, routine, staff, paper, groups, records, returning, movements):
    blueprint.register_blueprint(wing.blueprint)
