"""Entries and checks of several forms: a form with only a button, the start rung of an arm, common checks.

Every form carries a token of its session. A form that comes without a valid token is shown again with all its entries.
"""

from collections.abc import Callable, Mapping, Sequence

from flask_wtf import FlaskForm
from wtforms import Field, Form
from wtforms.validators import StopValidation

from webapp.dosing.faults import Fault
from webapp.dosing.settings import ARMS
from webapp.library.faults import FileFault

LONGEST_NAME = 80
LONGEST_NOTE = 600

Check = Callable[[Form, Field], None]


class ButtonForm(FlaskForm):
    """A form that has only a button."""


def start_field(arm: str) -> str:
    """Return the name of the field for an arm's start rung, on the intake and on the routine desk."""
    return f"start_rung_{arm}"


START_FIELDS = {arm: start_field(arm) for arm in ARMS}


def needed(_form: Form, field: Field) -> None:
    """Refuse an empty entry."""
    if field.errors:
        raise StopValidation
    if field.data is None or field.data in ("", [], False):
        field.errors = []
        raise StopValidation(Fault("missing", field.short_name, ""))


def at_most(letters: int) -> Check:
    """Refuse a text longer than `letters` characters."""

    def check(_form: Form, field: Field) -> None:
        if field.data and len(field.data) > letters:
            raise StopValidation(Fault("too_long", field.short_name, len(field.data), (letters,)))

    return check


def trimmed(text: str | None) -> str:
    """Return a text without the spaces around it."""
    return (text or "").strip()


def put_beside(form: Form, faults: Sequence[FileFault], names: Mapping[str, str]) -> None:
    """Put each fault that the library found beside the form's entry that it concerns.

    Args:
        form: The form.
        faults: The faults; their keys are like `tuning.rise`.
        names: For some keys, the name of the form's entry; other keys have the same name as their entry.
    """
    for fault in faults:
        key = fault.key.rpartition(".")[2]
        field = form[names.get(key, key)]
        field.errors = [*field.errors, Fault(fault.code, field.short_name, fault.value, fault.rule)]
