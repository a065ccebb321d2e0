"""The practice's private notes on the case page: the form, and the notes with author and date."""

from typing import Any

from flask_wtf import FlaskForm
from wtforms import StringField, TextAreaField

from webapp.practice import desk
from webapp.practice.forms.entries import at_most, needed, trimmed
from webapp.records import private_notes
from webapp.records.cases import Case
from webapp.sync.log import practice_events

LONGEST_TEXT = 2000
NOTES_SHOWN = 5
KEY_LENGTH = 36


class NoteForm(FlaskForm):
    """A private note. `note_key` makes a form that is sent twice write once."""

    private_note = TextAreaField(validators=[needed, at_most(LONGEST_TEXT)], filters=[trimmed])
    note_key = StringField(validators=[needed, at_most(KEY_LENGTH)])


def about_notes(shown: Case, sent: NoteForm | None) -> dict[str, Any]:
    """Return the notes, newest first, and the form; a form that was sent with a fault takes the place of the empty one."""
    form = sent or NoteForm(prefix="note", data={"note_key": practice_events.new_id(desk.now())})
    return {
        "private_notes": private_notes.of_client(desk.records(), shown.id),
        "note_form": form,
        "notes_shown": NOTES_SHOWN,
    }
