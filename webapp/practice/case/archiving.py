"""The archive over HTTP: put a case there, take it back."""

from flask import redirect, url_for
from werkzeug.wrappers import Response

from webapp.dosing.faults import Fault
from webapp.practice import desk
from webapp.practice.case import page
from webapp.practice.case.acts.archiving import ArchiveForm
from webapp.practice.forms.entries import ButtonForm
from webapp.practice.standing import line_for
from webapp.sync.case import archive


def put_away(public_id: str) -> Response | tuple[str, int]:
    """Put a case into the archive and go to the caseload, or show the case page again with the faults."""
    shown, form = desk.own_case(public_id), ArchiveForm(prefix="archive")
    if not form.judge(line_for(shown)):
        return page.page_of(shown, acts={"archive": form}), 400
    db, by = desk.records(), desk.signed_in().id
    try:
        archive.archive(db, shown.id, str(form.archive_reason.data), by, form.archive_seen.data or "", now=desk.now())
    except archive.ArchiveChangedError:
        form.archive_despite.data = False
        form.archive_reason.errors = [Fault("log_moved", "archive_reason", "")]
        return page.page_of(shown, acts={"archive": form}), 409
    desk.say_later("archived", shown.name)
    return redirect(url_for("practice.caseload.show"), 303)


def take_back(public_id: str) -> Response:
    """Take a case out of the archive; where it is not there, nothing is changed."""
    shown = desk.own_case(public_id)
    if not ButtonForm().validate():
        return desk.send_again(shown)
    is_back = archive.take_back(desk.records(), shown.id, desk.signed_in().id, now=desk.now())
    desk.say_later("taken_back" if is_back else "nothing_waits")
    return desk.back_to_case(shown)
