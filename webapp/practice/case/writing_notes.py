"""Private notes over HTTP: write one, strike one out."""

from werkzeug.wrappers import Response

from webapp.practice import desk
from webapp.practice.case import page
from webapp.practice.case.acts.noting import NoteForm
from webapp.practice.forms.entries import ButtonForm
from webapp.records import private_notes


def write_note(public_id: str) -> Response | tuple[str, int]:
    """Save a note, or show the case page again with the faults."""
    shown = desk.own_case(public_id)
    form = NoteForm(prefix="note")
    if not form.validate():
        return page.page_of(shown, acts={"note": form}), 400
    by, key = desk.signed_in().id, str(form.note_key.data)
    private_notes.add(desk.records(), shown.id, str(form.private_note.data), by, key, desk.now())
    desk.say_later("note_saved")
    return desk.back_to_case(shown)


def strike_note(public_id: str, note: int) -> Response:
    """Strike out a note; it stays on record, with who struck it out and when."""
    shown = desk.own_case(public_id)
    if not ButtonForm().validate():
        return desk.send_again(shown)
    is_struck = private_notes.strike_out(desk.records(), shown.id, note, desk.signed_in().id, desk.now())
    desk.say_later("note_struck" if is_struck else "nothing_waits")
    return desk.back_to_case(shown)
