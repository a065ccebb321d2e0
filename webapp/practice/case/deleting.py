"""Deleting a client as a whole: what goes, what is kept and why; the practitioner types the name."""

from flask import g, redirect, render_template, url_for
from flask_wtf import FlaskForm
from werkzeug.wrappers import Response
from wtforms import StringField

from webapp.dosing.faults import Fault
from webapp.practice import desk
from webapp.practice.forms.entries import needed, trimmed
from webapp.records import devices, events, private_notes, removal, routines
from webapp.records.cases import Case

BY_WISH = "asked"


class DeleteForm(FlaskForm):
    """The client's name, typed by the practitioner, so that nobody is deleted by one press."""

    typed_name = StringField(validators=[needed], filters=[trimmed])

    def judge(self, name: str) -> bool:
        """Check that the name is the client's own, letter for letter."""
        if not self.validate():
            return False
        if self.typed_name.data != name.strip():
            self.typed_name.errors = [Fault("other_name", "typed_name", self.typed_name.data)]
            return False
        return True


def delete(public_id: str) -> Response | tuple[str, int] | str:
    """Show what a deletion takes, or delete the client and go to the caseload."""
    shown, form = desk.own_case(public_id), DeleteForm()
    if not form.is_submitted():
        return _page(shown, form)
    if not form.judge(shown.name):
        return _page(shown, form), 400
    removal.remove(desk.records(), shown.id, BY_WISH, desk.now())
    # The history must not point at a client who is gone.
    g.pop("case")
    desk.say_later("deleted")
    return redirect(url_for("practice.caseload.show"), 303)


def _page(shown: Case, form: DeleteForm) -> str:
    db = desk.records()
    return render_template(
        "case/delete.html",
        shown=shown,
        form=form,
        entries=events.newest_seq(db, shown.id),
        versions=len(routines.of_client(db, shown.id)),
        phones=len(devices.of_client(db, shown.id)),
        private_notes=len(private_notes.of_client(db, shown.id)),
    )
