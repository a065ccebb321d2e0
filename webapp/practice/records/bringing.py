"""Our own file brought in at the desk: read as a whole, shown, and only then taken into the practitioner's own caseload."""

from collections.abc import Sequence
from functools import partial

from flask import redirect, render_template, request, url_for
from flask_wtf import FlaskForm
from werkzeug.wrappers import Response
from wtforms import StringField

from webapp.library.faults import FileFault, NotAcceptedError
from webapp.practice import desk
from webapp.sync.carrying.bring_in import FileLook, bring_in, look
from webapp.words.faults import fault_text

MOST_BYTES = 8_000_000
BESIDE_THE_FILE = 20_000
"""Bytes of a form around its file."""


class BringForm(FlaskForm):
    """The step, and the key of the file that was shown; the file itself is no field."""

    step = StringField()
    shown = StringField()


def show_bringing() -> str:
    """Ask for the file."""
    return _page(BringForm())


def bring() -> Response | tuple[str, int] | str:
    """Show what a file would do, or take in the one that was shown."""
    if (request.content_length or 0) > MOST_BYTES:
        return _page(BringForm(formdata=None), trouble="too_long"), 413
    request.max_content_length = MOST_BYTES
    form = BringForm()
    if not form.validate():
        return _page(form), 400
    try:
        return _take(form) if form.step.data == "take" else _shown(form)
    except NotAcceptedError as error:
        return _page(form, faults=error.faults), 400


def _shown(form: BringForm) -> tuple[str, int] | str:
    sent = request.files.get("file")
    raw, name = (sent.read(), sent.filename or "") if sent else (b"", "")
    if not raw:
        return _page(form, trouble="no_file"), 400
    found = look(desk.records(), desk.signed_in().id, raw, name)
    form.shown.data = desk.waiting().keep(desk.signed_in().id, raw, name) if found.new else ""
    return _page(form, found=found)


def _take(form: BringForm) -> Response | tuple[str, int]:
    me = desk.signed_in().id
    kept = desk.waiting().find(me, form.shown.data or "")
    if kept is None:
        return _page(form, trouble="waits_no_more"), 400
    brought = bring_in(desk.records(), me, *kept, leaves_known=True)
    desk.waiting().drop(me)
    desk.say_later("brought_in", len(brought))
    return redirect(url_for("practice.records.show_records"), 303)


def _page(
    form: BringForm, *, faults: Sequence[FileFault] = (), found: FileLook | None = None, trouble: str = ""
) -> str:
    return render_template(
        "records/bring.html",
        form=form,
        faults=faults,
        found=found,
        trouble=trouble,
        megabytes=MOST_BYTES // 1_000_000,
        fault_text=partial(fault_text, desk.words()),
    )
