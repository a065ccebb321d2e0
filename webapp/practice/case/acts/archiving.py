"""The archive on the case page: the form with a reason, what still waits, and what was done before."""

from collections.abc import Iterator
from typing import Any

from flask_wtf import FlaskForm
from wtforms import BooleanField, StringField, TextAreaField

from webapp.practice import desk
from webapp.practice.forms.entries import at_most, needed, trimmed
from webapp.practice.standing import Line
from webapp.records import archivings
from webapp.sync.case import archive

LONGEST_REASON = 280


class ArchiveForm(FlaskForm):
    """Why a case goes into the archive; only the practice reads it.

    `archive_seen` is the seal of what the page showed: if an entry came in since, the practitioner must read it first.
    `archive_despite` is asked for only where something waits.
    """

    archive_reason = TextAreaField(validators=[needed, at_most(LONGEST_REASON)], filters=[trimmed])
    archive_despite = BooleanField()
    archive_seen = StringField()

    def judge(self, line: Line) -> bool:
        """Check the entries; where something waits, the practitioner must say that it is known."""
        if list(waits(line)):
            self.archive_despite.validators = (needed,)
        return bool(self.validate())


def waits(line: Line) -> Iterator[str]:
    """Yield what waits for the practitioner in a case: hold, start, letter, to_ask, phone."""
    found = {
        "hold": any(stand.mode == "held" for stand in line.standings),
        "start": line.start_waits,
        "letter": line.unread_letters > 0,
        "to_ask": line.is_to_ask,
        "phone": line.contact.to_confirm > 0,
    }
    yield from (name for name, is_so in found.items() if is_so)


def about_archive(line: Line, sent: ArchiveForm | None) -> dict[str, Any]:
    """Return what the page shows of the archive.

    Args:
        line: The client today.
        sent: The form that was sent with a fault; it takes the place of the empty one.
    """
    db, client = desk.records(), line.case.id
    there = archive.archived_of(db, client)
    form = sent or ArchiveForm(prefix="archive", data={"archive_reason": there.reason if there else ""})
    return {
        "archived": there,
        "archivings": archivings.of_client(db, client),
        "archive_form": form,
        "archive_seal": archive.seal(db, client),
        "archive_waits": list(waits(line)),
    }
