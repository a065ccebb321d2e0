"""The practitioner's act of writing down the client's own activities."""

from werkzeug.wrappers import Response

from webapp.dosing.faults import Fault
from webapp.events.activities import NAMED
from webapp.practice import desk
from webapp.practice.case import page
from webapp.practice.case.activities import ActivitiesForm, named_now, seal
from webapp.records.cases import Case
from webapp.records.database import write
from webapp.sync.log import practice_events
from webapp.sync.log.local_day import local_day, zone_of


def name_activities(public_id: str) -> Response | tuple[str, int]:
    """Write down the client's activities, or show the case page again with the faults; the same form sent twice writes once."""
    shown, form = desk.own_case(public_id), ActivitiesForm(prefix="activities")
    if not form.validate():
        return page.page_of(shown, named=form), 400
    db = desk.records()
    with write(db):
        known = named_now(db, shown.id)
        has_moved = form.seen.data != seal(known)
        if has_moved and known != tuple(form.names):
            form.activity_1.errors = [Fault("activities_moved", "activity_1", "")]
            return page.page_of(shown, named=form), 409
        if has_moved:
            return _done(shown)
        today = local_day(desk.now(), zone_of(db, shown.id))
        practice_events.put(db, shown.id, NAMED, today, {"activities": form.names}, desk.now())
    return _done(shown)


def _done(shown: Case) -> Response:
    desk.say_later("activities_named")
    return desk.back_to_case(shown)
